"""What the stages may ask the boundaries, which they do not open themselves."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, NamedTuple

import numpy as np

from pipeline.values.towns import Towns, no_towns


def _no_text(latitudes: Any, longitudes: Any) -> Any:
    return np.full(len(latitudes), "", dtype="<U6")


def _no_number(latitudes: Any, longitudes: Any, claimed: Any = ()) -> Any:
    return np.full(len(latitudes), np.nan)


def _any(latitudes: Any, longitudes: Any, km: Any) -> Any:
    return np.full(len(latitudes), "", dtype="<U6")


def _on_land(latitudes: Any, longitudes: Any) -> Any:
    return np.zeros(len(latitudes))


def _no_counties() -> Mapping[tuple[str, str], str]:
    return {}


class Atlas(NamedTuple):
    """Questions over arrays of latitudes and longitudes in degrees; distances are km along the ellipsoid.

    What lies at a point: `country_at` (ISO 3166-1), `claims_at` (every code that is not wrong there, between
    blanks), `state_at` (ISO 3166-2), `county_at` (five digits), each "" where none or not settled; a point just off
    a shore counts as on it. `km_to_land` is 0 on land, else the way out of the lake or the sea.

    How far a point lies outside what is claimed beside it, 0 inside, missing where that is unknown or not settled:
    `km_outside` (countries), `km_outside_state` (also of a larger division: FR-BRE), `km_outside_county` (codes,
    several between blanks). How far inside its own: `km_inside_state`, `km_inside_county`. `claims_near` names, in a
    rough and quick way, every country that may lie within so many km: none that it leaves out does.

    `towns(countries, key)` lists the towns of a name (see `values.towns`). `county_codes()` gives the codes of counties
    by state and tidied name, `county_names()` the names by code,
    `highest()` the height in metres of the highest land of states by their codes.
    """

    country_at: Callable[[Any, Any], Any]
    km_outside: Callable[[Any, Any, Any], Any]
    claims_at: Callable[[Any, Any], Any] = _no_text
    state_at: Callable[[Any, Any], Any] = _no_text
    county_at: Callable[[Any, Any], Any] = _no_text
    km_to_land: Callable[[Any, Any], Any] = _on_land
    km_outside_state: Callable[[Any, Any, Any], Any] = _no_number
    km_outside_county: Callable[[Any, Any, Any], Any] = _no_number
    km_inside_state: Callable[[Any, Any], Any] = _no_number
    km_inside_county: Callable[[Any, Any], Any] = _no_number
    county_codes: Callable[[], Mapping[tuple[str, str], str]] = _no_counties
    county_names: Callable[[], Mapping[str, str]] = dict
    claims_near: Callable[[Any, Any, Any], Any] = _any
    highest: Callable[[], Mapping[str, float]] = dict
    towns: Towns = no_towns
