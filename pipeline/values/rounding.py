"""How a place is made coarser: to the nearest multiple of a square, always the same one."""

from __future__ import annotations

from decimal import Decimal

import numpy as np
import numpy.typing as npt

Degrees = npt.NDArray[np.float64]


def to_square(degrees: Degrees, square: float) -> Degrees:
    """Degrees rounded to the nearest multiple of the square (degrees).

    >>> to_square(np.array([45.5049, -64.8951]), 0.01).tolist()
    [45.5, -64.9]
    """
    rounded: Degrees = np.round(np.round(degrees / square) * square, decimals_of(square)) + 0.0  # no -0.0
    return rounded


def decimals_of(square: float) -> int:
    """How many decimals a multiple of the square is written with.

    >>> decimals_of(0.01), decimals_of(0.025), decimals_of(1.0)
    (2, 3, 0)
    """
    exponent = Decimal(repr(square)).normalize().as_tuple().exponent
    return max(0, -exponent) if isinstance(exponent, int) else 0
