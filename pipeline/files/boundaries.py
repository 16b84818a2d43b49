"""How far points lie from the country, state and county that is named beside them; all that stages may ask."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache, lru_cache

import numpy as np
import numpy.typing as npt

from pipeline.files.boundary_layers import Texts, accepts, counties, shape_at, world
from pipeline.files.boundary_points import claims_at, claims_near, country_at, county_at, found, km_to_land, state_at
from pipeline.files.outlines import Numbers, Outlines, nearest, outlines_of, together
from pipeline.files.schemas import table
from pipeline.files.towns import towns
from pipeline.values.atlas import Atlas
from pipeline.values.text import tidy


def km_outside(latitudes: Numbers, longitudes: Numbers, claimed: Texts) -> Numbers:
    """How far each point lies outside the country named beside it; missing where unknown or not settled."""
    return _km_outside("countries", world().countries, (latitudes, longitudes), claimed) if len(latitudes) else _none()


def km_outside_state(latitudes: Numbers, longitudes: Numbers, claimed: Texts) -> Numbers:
    """How far each point lies outside the states, or larger divisions, named beside it: codes between blanks."""
    return _km_outside("states", world().states, (latitudes, longitudes), claimed) if len(latitudes) else _none()


def km_outside_county(latitudes: Numbers, longitudes: Numbers, claimed: Texts) -> Numbers:
    """How far each point lies outside the counties named beside it by their codes, between blanks."""
    km = np.full(len(latitudes), np.nan)
    if not len(km):
        return km
    here = county_at(latitudes, longitudes)
    for codes in np.unique(claimed[claimed != ""]).tolist():
        asked = np.flatnonzero((claimed == codes) & (np.abs(latitudes) <= 90) & (np.abs(longitudes) <= 180))
        is_in = np.isin(here[asked], codes.split())
        away = asked[~is_in]
        km[asked[is_in]] = 0
        if len(away) and np.isin(codes.split(), counties().fips).any():
            km[away] = nearest(lines_of("counties", codes), latitudes[away], longitudes[away]).km
    return km


def km_inside_state(latitudes: Numbers, longitudes: Numbers) -> Numbers:
    """How far inside its state or province each point lies; missing at sea."""
    return _km_inside("states", state_at(latitudes, longitudes), latitudes, longitudes)


def km_inside_county(latitudes: Numbers, longitudes: Numbers) -> Numbers:
    """How far inside its county each point lies; missing outside the United States."""
    return _km_inside("counties", county_at(latitudes, longitudes), latitudes, longitudes)


@cache
def county_codes() -> Mapping[tuple[str, str], str]:
    """The codes of the counties by state and tidied name; a city and a county of one name are together."""
    codes: dict[tuple[str, str], str] = {}
    known = counties()
    for state, name, fips in zip(known.states.tolist(), known.names.tolist(), known.fips.tolist(), strict=True):
        codes[state, tidy(name)] = f"{codes.get((state, tidy(name)), '')} {fips}".strip()
    return codes


@cache
def county_names() -> Mapping[str, str]:
    """The name of each county by its code."""
    return dict(zip(counties().fips.tolist(), counties().names.tolist(), strict=True))


@cache
def highest() -> Mapping[str, float]:
    """The height of the highest land of states and provinces, by their codes."""
    return {line["state"]: float(line["metres"]) for line in table("boundaries/highest.csv")}


def _none() -> Numbers:
    return np.zeros(0)


def _counties_of(accepted: npt.NDArray[np.bool_]) -> npt.NDArray[np.bool_]:
    """The counties of the same states, drawn finer."""
    states = world().states[accepted]
    return np.isin(counties().states, states[np.char.startswith(states, "US-")])


@lru_cache(maxsize=256)
def lines_of(level: str, code: str) -> Outlines:
    """The outlines of a country, state or county; in the United States as either source has them."""
    if level == "counties":
        return outlines_of(counties().layer, np.isin(counties().fips, code.split()))
    accepted = accepts(level, code)
    lines = outlines_of(world().layer, accepted)
    fine = _counties_of(accepted)
    return together(lines, outlines_of(counties().layer, fine)) if fine.any() else lines


def _km_outside(level: str, settled: Texts, points: tuple[Numbers, Numbers], claimed: Texts) -> Numbers:
    shapes, km = found(*points).shapes, np.full(len(claimed), np.nan)
    on_globe = (np.abs(points[0]) <= 90) & (np.abs(points[1]) <= 180)
    is_settled = (shapes < 0) | (settled[shapes] != "")
    for code in np.unique(claimed[claimed != ""]).tolist():
        accepted = accepts(level, code)
        if not accepted.any():
            continue
        asked = on_globe & (claimed == code)
        is_in = asked & (shapes >= 0) & accepted[shapes]
        km[is_in] = 0
        away = np.flatnonzero(asked & ~is_in & is_settled)
        fine = _counties_of(accepted)
        if fine.any() and len(away):
            county = shape_at(counties().layer, points[0][away], points[1][away])
            is_fine = (county >= 0) & fine[county]
            km[away[is_fine]] = 0
            away = away[~is_fine]
        if len(away):
            km[away] = nearest(lines_of(level, code), points[0][away], points[1][away]).km
    return km


def _km_inside(level: str, here: Texts, latitudes: Numbers, longitudes: Numbers) -> Numbers:
    km = np.full(len(here), np.nan)
    for code in np.unique(here[here != ""]).tolist():
        asked = np.flatnonzero(here == code)
        own = outlines_of(world().layer, world().states == code) if level == "states" else lines_of(level, code)
        km[asked] = nearest(own, latitudes[asked], longitudes[asked]).km
    return km


ATLAS = Atlas(
    country_at, km_outside, claims_at, state_at, county_at, km_to_land, km_outside_state, km_outside_county,
    km_inside_state, km_inside_county, county_codes, county_names, claims_near, highest, towns,
)  # fmt: skip
