"""The slip of one digit in a number of degrees: what it may have been, and which of that lies at a known place."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from pipeline.values.uncertainty import metres_per_degree

REACH_METRES = 1000.0


def one_digit_away(text: str) -> list[str]:
    """Every number that one other digit makes, or one digit more or less before the point.

    >>> one_digit_away("-6.3")[:3], len(one_digit_away("-6.3"))
    (['-0.3', '-1.3', '-2.3'], 36)
    >>> "-64.3" in one_digit_away("-6.3"), "-6.3" in one_digit_away("-64.3")
    (True, True)
    """
    digits = "0123456789"
    whole = text.partition(".")[0]
    sign = len(whole) - len(whole.lstrip("+-"))
    found = [
        text[:place] + digit + text[place + 1 :]
        for place, old in enumerate(text)
        if old.isdigit()
        for digit in digits
        if digit != old
    ]
    places = range(sign, len(whole) + 1)
    found += [
        text[:place] + digit + text[place:] for place in places for digit in digits if place > sign or digit != "0"
    ]
    if len(whole) - sign > 1:
        found += [text[:place] + text[place + 1 :] for place in range(sign, len(whole))]
    return list(dict.fromkeys(found))


def only_slip(latitude: str, longitude: str, places: npt.NDArray[np.float64]) -> tuple[str, str]:
    """The only number, for one of the two axes, that brings the point to one of the places; blanks if none or several.

    >>> known = np.array([[45.9045, -64.3712]])
    >>> only_slip("48.9045", "-64.3712", known), only_slip("45.9045", "-6.3712", known)
    (('45.9045', ''), ('', '-64.3712'))
    >>> several = np.array([[45.1, -64.3712], [45.3, -64.3712]])
    >>> only_slip("54.9045", "-64.3712", known), only_slip("45.8", "-64.3712", several)
    (('', ''), ('', ''))
    """
    point = float(latitude), float(longitude)
    fits = [(edit, "") for edit in _fitting(latitude, places[:, 0], point[1], places, axis=0)]
    fits += [("", edit) for edit in _fitting(longitude, places[:, 1], point[0], places, axis=1)]
    return fits[0] if len(fits) == 1 else ("", "")


def _fitting(
    text: str, own: npt.NDArray[np.float64], other: float, places: npt.NDArray[np.float64], axis: int
) -> Sequence[str]:
    """The edits of one axis that lie at a place, its other axis as it stands."""
    scale = np.column_stack(metres_per_degree(places[:, 0]))
    across = np.abs(places[:, 1 - axis] - other) * scale[:, 1 - axis]
    near = across <= REACH_METRES
    if not near.any():
        return ()
    edits = one_digit_away(text)
    away = np.abs(np.array([float(edit) for edit in edits])[:, None] - own[near]) * scale[near, axis]
    fits = (np.hypot(away, across[near]) <= REACH_METRES).any(axis=1)
    return [edit for edit, fit in zip(edits, fits.tolist(), strict=True) if fit]
