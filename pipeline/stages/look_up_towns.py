"""Adds where the towns lie that rows name without a point: the programme's own places first, then the open list."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
import numpy.typing as npt
import pandas as pd

from pipeline.settings import Settings
from pipeline.values.atlas import Atlas
from pipeline.values.lists import Lists
from pipeline.values.named_towns import Found, Named, candidates, near
from pipeline.values.points import points_of
from pipeline.values.text import tidy
from pipeline.values.towns import Town, town_key

MARK = "\x1f"
OWN = "the programme's own list of places"
OWN_METRES = 1000.0  # of an own place whose extent is not stated
NOTHING: Found = ("", None)


def look_up_towns(
    rows: pd.DataFrame, own: pd.DataFrame, lists: Lists, atlas: Atlas, settings: Settings
) -> dict[str, pd.Series]:
    """The facts about towns, and `place_*`: the row's point, or else the middle of its town; and its state's code.

    `own` are the programme's places (name, latitude, longitude, uncertainty_m, public), an empty point among them
    where the coordinator knows none. Nothing is looked up for a row that has a point, or one in doubt.
    """
    is_asked = (rows["decimalLatitude"] == "") & (rows["decimalLongitude"] == "")
    is_asked &= (rows["municipality"] != "") | (rows["locality"] != "")
    known = _own(own)
    named, places = _names(rows[is_asked])
    found = [candidates(one, known, lists, atlas.towns, settings) for one in named]
    found, places = _by_person(rows, rows.index[is_asked], found, places)
    facts = _facts([*found, NOTHING], places, is_asked, lists)
    has_point = rows["latitude"].notna() & rows["longitude"].notna()
    facts["place_state"] = _state(rows, facts, lists, atlas)
    for name, of_point in (("latitude", "latitude"), ("longitude", "longitude"), ("metres", "point_metres")):
        facts[f"place_{name}"] = rows[of_point].where(has_point, facts[f"town_{name}"])
    return facts


def own_places(sites: pd.DataFrame, placed: Mapping[str, str]) -> pd.DataFrame:
    """The programme's places and those of answers, by name: latitude, longitude and metres with blanks between."""
    points = {name: [float(number) for number in point.split()] for name, point in placed.items()}
    lines = [(name, *(point + [np.nan] * 3)[:3], "yes") for name, point in points.items()]
    return pd.concat([pd.DataFrame(lines, columns=list(sites.columns)), sites], ignore_index=True) if lines else sites


def _state(rows: pd.DataFrame, facts: dict[str, pd.Series], lists: Lists, atlas: Atlas) -> pd.Series:
    """The ISO 3166-2 code of the state in which the place lies, else of the only one that the row names."""
    north = rows["latitude"].fillna(facts["town_latitude"]).to_numpy()
    east = rows["longitude"].fillna(facts["town_longitude"]).to_numpy()
    here = pd.Series(points_of(north, east).each(atlas.state_at, ""), index=rows.index, dtype="str")
    codes, unique = pd.factorize(rows["stateProvince"])
    known = [{state.code for state in lists.states.get(tidy(name), ())} for name in unique]
    named = pd.Series([min(one) if len(one) == 1 else "" for one in known], dtype="str").take(codes)
    return here.where(here != "", named.set_axis(rows.index))


def _own(own: pd.DataFrame) -> Mapping[str, Town | None]:
    """The programme's places that anybody may know, by key; None for a name without a point."""
    lines = own[own["public"] == "yes"]
    points = lines[["latitude", "longitude", "uncertainty_m"]].to_numpy(dtype="float64").tolist()
    return {
        town_key(name): None
        if np.isnan(latitude)
        else Town(name, "", "", latitude, longitude, OWN_METRES if np.isnan(metres) else metres, OWN)
        for name, (latitude, longitude, metres) in zip(lines["name"].tolist(), points, strict=True)
    }


def _names(rows: pd.DataFrame) -> tuple[list[Named], npt.NDArray[np.int64]]:
    """Each different way of naming a town, and which of them each row has; a word in doubt says nothing."""
    clear = {name: rows[name].where(rows[f"{name}_doubt"] == "", "") for name in ("stateProvince", "countryCode")}
    words = rows["municipality"] + MARK + rows["locality"] + MARK + clear["stateProvince"] + MARK
    codes, unique = pd.factorize(words + clear["countryCode"] + MARK + rows["recordKind"])
    return [Named(*text.split(MARK)) for text in unique.tolist()], np.asarray(codes, dtype=np.int64)


def _by_person(
    rows: pd.DataFrame, index: pd.Index, found: list[Found], places: npt.NDArray[np.int64]
) -> tuple[list[Found], npt.NDArray[np.int64]]:
    """Several towns of one name: for each person the one near the person's points, where there is just one such."""
    several = np.array([len(towns or ()) > 1 for _, towns in found], dtype=np.bool_)
    asked = np.flatnonzero(several[places]) if len(places) else places
    if not len(asked):
        return found, places
    people = rows.loc[index[asked], "person_id"].to_numpy()
    points = rows.loc[rows["person_id"].isin({*people} - {""}), ["person_id", "latitude", "longitude"]]
    own = {str(person): lines for person, lines in points.dropna().drop_duplicates().groupby("person_id")}
    pairs = pd.MultiIndex.from_arrays([places[asked], people])
    codes, unique = pd.factorize(pairs)
    nearer = [near(found[place], own.get(str(person))) for place, person in unique]
    places = places.copy()
    places[asked] = len(found) + codes
    return [*found, *nearer], places


def _facts(
    found: list[Found], places: npt.NDArray[np.int64], is_asked: pd.Series, lists: Lists
) -> dict[str, pd.Series]:
    """What is told of each row; the last of `found` is said of rows about which nothing was asked."""
    each = np.full(len(is_asked), len(found) - 1)
    each[is_asked.to_numpy()] = places
    only = [towns[0] if towns and len(towns) == 1 else None for _, towns in found]
    told: dict[str, list[str] | list[float]] = {
        "town": [word if towns is not None else "" for word, towns in found],
        "towns_found": [np.nan if towns is None or not word else float(len(towns)) for word, towns in found],
        "towns_named": [_named(towns, lists) if towns and len(towns) > 1 else "" for _, towns in found],
        "town_source": [town.source if town else "" for town in only],
        "town_country": [town.country if town else "" for town in only],
        "town_latitude": [town.latitude if town else np.nan for town in only],
        "town_longitude": [town.longitude if town else np.nan for town in only],
        "town_metres": [town.metres if town else np.nan for town in only],
    }
    return {
        name: pd.Series(values, dtype="str" if isinstance(values[0], str) else "float64")
        .take(each)
        .set_axis(is_asked.index)
        for name, values in told.items()
    }


def _named(towns: Sequence[Town], lists: Lists) -> str:
    """The states of several towns of one name."""
    names = {state.code: state.name for states in lists.states.values() for state in states}
    return ", ".join(sorted({names.get(town.state, town.country) for town in towns}))
