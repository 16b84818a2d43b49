"""Adds how the rows' points lie to borders and shores: the state and county named beside them, land or water."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from typing import Any

import numpy as np
import numpy.typing as npt
import pandas as pd

from pipeline.settings import Settings
from pipeline.values.atlas import Atlas
from pipeline.values.lists import Lists
from pipeline.values.points import Points, points_of
from pipeline.values.text import tidy

Numbers = npt.NDArray[np.float64]
MARK = "\x1f"
BORDER_KM = 1.0  # borders are drawn to about this; nearer, no name is called certain
KIND_OF_COUNTY = re.compile(r"\b(county|co|cnty|parish|borough|census area|municipality|municipio|comte de)\b")


def look_up_borders(rows: pd.DataFrame, lists: Lists, settings: Settings, atlas: Atlas) -> dict[str, pd.Series]:
    """The facts about state, county, land and elevation; `rows` has the facts of places."""
    points = points_of(rows["latitude"].to_numpy(), rows["longitude"].to_numpy())
    claims = _claimed_states(rows, lists, settings)
    outside = points.each_claim(claims, atlas.km_outside_state)
    here = points.each(atlas.state_at, "")
    metres = pd.to_numeric(rows["minimumElevationInMeters"], errors="coerce").astype("float64")
    named = _county_names(rows, atlas)
    counties = _claimed_counties(rows, (claims, here, named), atlas)
    km_county = points.each_claim(counties, atlas.km_outside_county)
    sure = np.maximum(rows["point_metres"].fillna(0).to_numpy() / 1000, BORDER_KM)
    names = _names(lists) if (outside > BORDER_KM).any() else {}
    facts = {
        "state_at_point": _named(np.where(outside > BORDER_KM, here, ""), names),
        "km_outside_state": outside,
        "state_surely_at_point": _named(_surely(points, here, outside, sure, atlas.km_inside_state), names),
        "km_outside_county": km_county,
        "county_surely_at_point": _surely_in_county(points, km_county, sure, atlas),
        "km_to_land": points.each(atlas.km_to_land, np.nan),
        "elevation_metres": metres,
        "highest_metres": _highest(np.where(here != "", here, claims), metres.notna().to_numpy(), atlas),
    }
    return {name: _column(values, rows.index) for name, values in facts.items()}


def _column(values: Any, index: pd.Index) -> pd.Series:
    if np.asarray(values).dtype.kind == "f":
        return pd.Series(np.round(values, 2), index=index, dtype="float64")
    return pd.Series(np.asarray(values), index=index, dtype="str")


def _by_unique(texts: pd.Series, read: Callable[[str], str]) -> npt.NDArray[np.str_]:
    codes, unique = pd.factorize(texts)
    return np.array([read(text) for text in unique], dtype="str")[codes] if len(unique) else np.zeros(0, dtype="<U1")


def _claimed_states(rows: pd.DataFrame, lists: Lists, settings: Settings) -> npt.NDArray[np.str_]:
    """The codes of the states that a row's name may stand for, in its country or else in those of the settings."""
    name = rows["stateProvince"].where(rows["stateProvince_doubt"] == "", "")
    country = rows["countryCode"].where(rows["countryCode_doubt"] == "", "")

    def codes(both: str) -> str:
        name, _, country = both.partition(MARK)
        found = lists.states.get(tidy(name), ()) if name else ()
        of_country = [state for state in found if not country or state.country == country]
        of_region = [state for state in of_country if state.country in settings.region.countries]
        return " ".join(sorted({state.code for state in of_region or of_country}))

    return _by_unique(name + MARK + country, codes)


def _county_names(rows: pd.DataFrame, atlas: Atlas) -> npt.NDArray[np.str_]:
    """The tidied county of each row without the word for its kind."""
    name = rows["county"].where(rows["county_doubt"] == "", "")
    return _by_unique(name, lambda text: " ".join(KIND_OF_COUNTY.sub(" ", tidy(text)).split()))


def _claimed_counties(
    rows: pd.DataFrame, told: tuple[npt.NDArray[np.str_], npt.NDArray[np.str_], npt.NDArray[np.str_]], atlas: Atlas
) -> npt.NDArray[np.str_]:
    """The codes of the county of the United States that a row names: of its state, or of that in which it lies."""
    claims, here, named = told
    state = np.where(claims != "", claims, here)
    is_asked = (named != "") & np.char.startswith(state, "US-")
    if not is_asked.any():
        return np.full(len(rows), "", dtype="<U1")
    both = pd.Series(np.where(is_asked, np.char.add(np.char.add(state, MARK), named), ""))
    known = atlas.county_codes()

    def codes(state_and_name: str) -> str:
        state, _, name = state_and_name.partition(MARK)
        return known.get((state, name)) or known.get((state, name.removesuffix(" city")), "")

    return _by_unique(both, codes)


def _surely(
    points: Points,
    here: npt.NDArray[np.str_],
    outside: Numbers,
    sure: Numbers,
    inside: Callable[[Any, Any], Any],
) -> npt.NDArray[np.str_]:
    """What lies at a point that is farther inside it than its own uncertainty, where another name was claimed."""
    asked = np.flatnonzero((outside > BORDER_KM) & (here != ""))
    said = np.full(len(here), "", dtype=here.dtype)
    if len(asked):
        unique, of_point = np.unique(points.places[asked], return_inverse=True)
        km = np.asarray(inside(points.latitudes[unique], points.longitudes[unique]))[of_point.reshape(-1)]
        said[asked] = np.where(km > sure[asked], here[asked], "")
    return said


def _surely_in_county(points: Points, outside: Numbers, sure: Numbers, atlas: Atlas) -> npt.NDArray[np.str_]:
    if not (outside > BORDER_KM).any():
        return np.full(len(outside), "", dtype="<U1")
    here = points.each(atlas.county_at, "")
    return _named(_surely(points, here, outside, sure, atlas.km_inside_county), atlas.county_names())


def _names(lists: Lists) -> dict[str, str]:
    """The name of each state by its code; none where several older ones share a code of today."""
    names: dict[str, str] = {}
    for found in lists.states.values():
        for state in found:
            names[state.code] = state.name if names.get(state.code, state.name) == state.name else ""
    return names


def _named(codes: npt.NDArray[np.str_], names: Mapping[str, str]) -> npt.NDArray[np.str_]:
    unique, places = np.unique(codes, return_inverse=True)
    return np.array([names.get(code, "") for code in unique.tolist()], dtype="str")[places.reshape(-1)]


def _highest(states: npt.NDArray[np.str_], is_asked: npt.NDArray[np.bool_], atlas: Atlas) -> Numbers:
    """Metres of the highest land of each row's state, where the row has an elevation."""
    highest = np.full(len(states), np.nan)
    if is_asked.any():
        unique, places = np.unique(states, return_inverse=True)
        known = atlas.highest()
        metres = np.array([known.get(code, np.nan) for code in unique.tolist()])
        highest[is_asked] = metres[places.reshape(-1)][is_asked]
    return highest
