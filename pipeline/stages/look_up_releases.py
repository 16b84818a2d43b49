"""Adds where else in the ledger a row's tag stands, and for a find what its release says."""

from __future__ import annotations

import numpy as np
import pandas as pd
from pyproj import Geod

from pipeline.frames import is_among, known_of

GEOD = Geod(ellps="WGS84")
TEXTS_OF_RELEASE = {"sex": "sex", "species": "scientificName", "person_id": "person_id"}
OF_RELEASE = ("tagCode", "first_day", "last_day", "latitude", "longitude", "metres", *TEXTS_OF_RELEASE.values())
PLACE = ("latitude", "longitude", "metres")
PAST = "past"  # the state of a record that was published before the ledger began; its sheet is its season


def tags_elsewhere(rows: pd.DataFrame, elsewhere: pd.DataFrame) -> dict[str, pd.Series]:
    """Where else in the whole ledger a code stands, and for a find what its release says.

    `rows` has the facts of look_up, look_up_towns and the sender; `elsewhere` are the records of the ledger that
    are not among them, and those published before its first run. A place is a point or the middle of a town, and
    `release_km` the least way between the two, whatever the radius round either.
    """
    rows = rows.assign(**{name: rows[f"place_{name}"] for name in PLACE})
    is_release = rows["recordKind"] == "release"
    now = elsewhere[elsewhere["state"] != PAST]
    past = elsewhere[(elsewhere["state"] == PAST) & (elsewhere["recordKind"] == "release")]
    tagged = _releases(rows[is_release & (rows["tagCode"] != "")], now[now["recordKind"] == "release"])
    known = _releases(tagged, past)
    finds = rows.loc[rows["recordKind"] == "find", "tagCode"]
    release = known.drop_duplicates("tagCode").set_index("tagCode").reindex(finds).set_axis(finds.index)
    of_find = release.reindex(rows.index)
    texts = {f"release_{name}": of_find[column].fillna("").astype("str") for name, column in TEXTS_OF_RELEASE.items()}
    seasons = past.drop_duplicates("tagCode").set_index("tagCode")["sheet"]
    return {
        **_counts(rows, tagged, known),
        "released_before": known_of(rows["tagCode"].where(is_release, ""), seasons),
        "has_release": of_find["person_id"].notna(),
        "release_day": of_find["first_day"].astype("datetime64[s]"),
        "release_last_day": of_find["last_day"].astype("datetime64[s]"),
        **texts,
        **_possible_days(rows, of_find["first_day"].astype("datetime64[s]")),
        "release_km": _km(rows, of_find),
    }


def _releases(rows: pd.DataFrame, others: pd.DataFrame) -> pd.DataFrame:
    """The releases of both; those of `others` have no place among the rows and are numbered below 0."""
    columns = [*OF_RELEASE, "tagCode_doubt"]
    rows = rows[columns]
    if not len(others):
        return rows
    below = min(0, int(rows.index.min())) if len(rows) else 0
    return pd.concat([rows, others.assign(tagCode_doubt="")[columns].set_index(np.arange(below - len(others), below))])


def _counts(rows: pd.DataFrame, tagged: pd.DataFrame, known: pd.DataFrame) -> dict[str, pd.Series]:
    """How many release rows, and of how many people, carry each row's code."""
    once = pd.Series(0.0, index=rows.index)
    once[tagged.index[tagged.index >= 0]] = 1.0
    repeated = tagged[tagged.duplicated("tagCode", keep=False)]
    is_whose = (repeated["person_id"] != "") & (repeated["tagCode_doubt"] == "")
    by_tag, by_person = repeated.groupby("tagCode").size(), repeated[is_whose].groupby("tagCode")["person_id"].nunique()
    is_find = rows["recordKind"] == "find"
    codes = rows["tagCode"]
    once[is_find & is_among(codes, known["tagCode"])] = 1.0
    size, people = (codes.map(counts).astype("float64") for counts in (by_tag, by_person))
    return {"rows_of_tag": size.fillna(once), "people_of_tag": people.fillna(once)}


def _possible_days(rows: pd.DataFrame, release_day: pd.Series) -> dict[str, pd.Series]:
    """The first and last day that are possible: of a release in the season, of a find from its release on."""
    is_release, received = rows["recordKind"] == "release", rows["received"]
    last = rows["season_last_day"].where(is_release & (rows["season_last_day"] < received), received)
    return {"earliest_day": rows["season_first_day"].where(is_release, release_day), "latest_day": last}


def _km(rows: pd.DataFrame, release: pd.DataFrame) -> pd.Series:
    ends = pd.DataFrame(
        {"lat": rows["latitude"], "lon": rows["longitude"], "lat0": release["latitude"], "lon0": release["longitude"]},
        dtype="float64",
    ).dropna()
    ends = ends[(ends["lat"].abs() <= 90) & (ends["lat0"].abs() <= 90)]
    km = pd.Series(np.nan, index=rows.index, dtype="float64")
    if len(ends):
        lon, lat, lon0, lat0 = (ends[name].to_numpy() for name in ("lon", "lat", "lon0", "lat0"))
        _, _, metres = GEOD.inv(lon, lat, lon0, lat0)
        radii = rows["metres"].fillna(0)[ends.index] + release["metres"].astype("float64").fillna(0)[ends.index]
        km[ends.index] = np.maximum(np.asarray(metres) - radii.to_numpy(), 0) / 1000
    return km
