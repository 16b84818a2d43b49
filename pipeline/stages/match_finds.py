"""Matches the tags that strangers found to the releases: how far, how long, in which direction."""

from __future__ import annotations

import numpy as np
import pandas as pd
from pyproj import Geod

from pipeline.frames import is_among
from pipeline.settings import Settings

GEOD = Geod(ellps="WGS84")
SIDES = ("file", "sheet", "row")
COLUMNS = (
    *(
        "find_occurrence_id",
        "release_occurrence_id",
        "tag",
        "km",
        "bearing_degrees",
        "days",
        "days_min",
        "days_max",
    ),
    *(
        "km_per_day",
        "kind",
        "state",
        *(f"find_{name}" for name in SIDES),
        *(f"release_{name}" for name in SIDES),
    ),
    *("find_key", "find_sha256", "released_on", "released_in", "release_state"),
)
_USED = (
    "tagCode", "occurrence_id", "state", *SIDES, "eventDate", "stateProvince", "latitude", "longitude", "metres",
    "first_day", "last_day",
)  # fmt: skip


def match_finds(rows: pd.DataFrame, elsewhere: pd.DataFrame, settings: Settings) -> pd.DataFrame:
    """A line per find, in the rows' order, all text: the columns of finds.csv.

    `rows` are the current rows (clear and held) with their facts, `metres` round the place (a point, else the middle of
    a town), `state` and `occurrence_id` ("" until the row has one); `elsewhere` the records of the ledger beside them.
    A find takes the release with exactly its tag, a clear one before a held one; km and degrees are on the WGS84
    geodesic between the exact places, the bearing is that at the release.
    """
    is_find = rows["recordKind"] == "find"
    rows = rows.assign(latitude=rows["place_latitude"], longitude=rows["place_longitude"])
    told = rows[is_find | is_among(rows["tagCode"], rows.loc[is_find, "tagCode"])]
    finds = told.loc[told["recordKind"] == "find", [*_USED, "key", "file_sha256"]]
    used = pd.concat([told[[*_USED, "recordKind"]], elsewhere[[*_USED, "recordKind"]]]) if len(elsewhere) else told
    releases = used.loc[(used["recordKind"] == "release") & (used["tagCode"] != ""), list(_USED)]
    releases = releases.assign(waits=~releases["state"].isin(["clear", "past"])).sort_values("waits", kind="stable")
    once = releases.drop(columns="waits").drop_duplicates("tagCode")
    pairs = finds.merge(once, on="tagCode", how="left", suffixes=("_find", "_release"))
    return (
        pd.DataFrame(
            {
                "find_occurrence_id": pairs["occurrence_id_find"],
                "release_occurrence_id": pairs["occurrence_id_release"],
                "tag": pairs["tagCode"],
                **_journey(pairs, settings),
                "state": pairs["state_find"],
                "find_key": pairs["key"],
                "find_sha256": pairs["file_sha256"],
                "released_on": pairs["eventDate_release"],
                "released_in": pairs["stateProvince_release"],
                "release_state": pairs["state_release"],
                **{f"{side}_{name}": _text(pairs[f"{name}_{side}"]) for side in ("find", "release") for name in SIDES},
            },
            columns=list(COLUMNS),
        )
        .fillna("")
        .astype("str")
    )


def _journey(pairs: pd.DataFrame, settings: Settings) -> dict[str, pd.Series]:
    """How far, which way and how long; blank where a point or a day is missing."""
    bearing, km = _geodesic(pairs)
    least = (pairs["first_day_find"] - pairs["last_day_release"]).dt.days
    most = (pairs["last_day_find"] - pairs["first_day_release"]).dt.days
    days = least.where(least == most)
    within = km * 1000 <= (pairs["metres_find"] + pairs["metres_release"]).fillna(0)
    kind = np.select([km.isna(), km <= settings.finds.local_km], ["", "near"], "far")
    return {
        "km": _text(km, 3),
        "bearing_degrees": _text(bearing.mask(within), 1).replace("360.0", "0.0"),
        "days": _text(days, 0),
        "days_min": _text(least, 0),
        "days_max": _text(most, 0),
        "km_per_day": _text((km / days).where(days > 0), 2),
        "kind": pd.Series(kind, index=pairs.index),
    }


def _geodesic(pairs: pd.DataFrame) -> tuple[pd.Series, pd.Series]:
    """Bearing at the release (0 to 360 degrees) and km."""
    ends = [f"{axis}_{side}" for side in ("release", "find") for axis in ("longitude", "latitude")]
    from_east, from_north, to_east, to_north = (pairs[end].to_numpy(dtype="float64") for end in ends)
    azimuth, _, metres = GEOD.inv(from_east, from_north, to_east, to_north)
    is_known = pairs[ends].notna().all(axis=1)
    bearing = pd.Series(np.asarray(azimuth) % 360, index=pairs.index)
    return bearing.where(is_known), pd.Series(np.asarray(metres) / 1000, index=pairs.index).where(is_known)


def _text(values: pd.Series, decimals: int = 0) -> pd.Series:
    if not pd.api.types.is_numeric_dtype(values):
        return values.fillna("")
    return values.map(lambda value: f"{value:.{decimals}f}", na_action="ignore").astype("object").fillna("")
