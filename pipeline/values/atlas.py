"""What the stages may ask the boundaries, which they do not open themselves."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, NamedTuple


class Atlas(NamedTuple):
    """Two questions over arrays of latitudes and longitudes in degrees.

    `country_at(latitudes, longitudes)` gives two-letter codes, "" at sea; `km_outside(latitudes, longitudes,
    countries)` how many km each point lies outside the country beside it.
    """

    country_at: Callable[[Any, Any], Any]
    km_outside: Callable[[Any, Any, Any], Any]
