"""Adds how the rows' places lie to those around them: dragged down, far from the day's others, or a digit away."""

from __future__ import annotations

from typing import Any

import numpy as np
import numpy.typing as npt
import pandas as pd
from pyproj import Geod

from pipeline.values.digit_slip import only_slip

Degrees = npt.NDArray[np.float64]
GEOD = Geod(ellps="WGS84")
FAR_OUT_KM, OUTSIDE_KM, FAR_KM = 2, 5, 150  # where a point on water, past a border, off the day's others is asked about
COMPACT_DEGREES = 0.9  # a day whose places all lie in such a box needs no distances: under 150 km across


def look_up_neighbours(rows: pd.DataFrame) -> dict[str, pd.Series]:
    """How each place lies to those around it; `rows` has latitude and longitude as numbers."""
    latitude, longitude = rows["latitude"], rows["longitude"]
    from_same_day = _km_from_same_day(rows, latitude, longitude)
    return {
        **_climbs(rows, latitude, longitude),
        "km_from_same_day": from_same_day,
        **_digit_slips(rows, from_same_day),
    }


def _digit_slips(rows: pd.DataFrame, from_same_day: pd.Series) -> dict[str, pd.Series]:
    """The latitude or longitude, one digit away, with which a doubtful point lies at one of the person's places."""
    has_point = rows["latitude"].notna() & rows["longitude"].notna() & (rows["person_id"] != "")
    is_odd = ~rows["is_in_region"] | (rows["km_to_land"] > FAR_OUT_KM) | (from_same_day > FAR_KM)
    is_odd |= (rows["km_outside_country"] > OUTSIDE_KM) | (rows["km_outside_state"] > OUTSIDE_KM)
    was_typed = rows["latitude_decimals"].notna() & rows["longitude_decimals"].notna()
    asked = rows.loc[has_point & is_odd & was_typed, ["person_id", "decimalLatitude", "decimalLongitude"]]
    names = ("nearest_latitude", "nearest_longitude")
    if not len(asked):
        return {name: pd.Series("", index=rows.index, dtype="str") for name in names}
    found = np.full((2, len(rows)), "", dtype=object)
    places_of = pd.Series(np.arange(len(rows)), index=rows.index)[asked.index].to_numpy()
    of_people = rows.loc[has_point & ~is_odd & rows["person_id"].isin(asked["person_id"].unique())]
    good = {str(person): places for person, places in of_people.groupby("person_id")[["latitude", "longitude"]]}
    written = asked[["decimalLatitude", "decimalLongitude"]].to_numpy(dtype=object)
    for person, at in asked.groupby("person_id").indices.items():
        places = good.get(str(person))
        if places is None or len(at) > len(places):  # where most of them lie elsewhere it is no slip
            continue
        own = np.unique(places.to_numpy(), axis=0)
        pairs = [(str(north), str(east)) for north, east in written[at].tolist()]
        slips = {(north, east): only_slip(north, east, own) for north, east in set(pairs)}
        found[:, places_of[at]] = np.array([slips[pair] for pair in pairs], dtype=object).T
    return {name: pd.Series(texts, index=rows.index, dtype="str") for name, texts in zip(names, found, strict=True)}


def _climbs(rows: pd.DataFrame, latitude: pd.Series, longitude: pd.Series) -> dict[str, pd.Series]:
    """Runs of rows whose latitude or longitude changes by the same amount from row to row."""
    (rows_lat, first_lat), (rows_lon, first_lon) = (_run(rows["table_id"], axis) for axis in (latitude, longitude))
    climbs = np.maximum(rows_lat, rows_lon)
    return {
        "climbing_rows": pd.Series(climbs, index=rows.index),
        "climb_latitude": _at(rows["decimalLatitude"], first_lat, climbs),
        "climb_longitude": _at(rows["decimalLongitude"], first_lon, climbs),
    }


def _at(texts: pd.Series, first: npt.NDArray[np.int64], climbs: Degrees) -> pd.Series:
    """The text of the first row of the run, the row's own where this axis does not climb; blank outside any run."""
    place = np.where(first >= 0, first, np.arange(len(first)))
    return texts.iloc[place].set_axis(texts.index).where(climbs > 0, "")


def _run(tables: pd.Series, degrees: pd.Series) -> tuple[Degrees, npt.NDArray[np.int64]]:
    """For each row how many rows its run of equal steps has (0 outside any), and the place of the run's first row.

    A step of a whole degree or of one unit of a decimal counts from the third row, as a dragged cell makes it; any
    other step, which three walks of a size make by chance, from the sixth.
    """
    step = degrees.groupby(tables).diff().round(7).to_numpy()
    number = np.cumsum(np.r_[True, step[1:] != step[:-1]]) if len(step) else np.arange(0)
    steps = np.bincount(number, minlength=len(step) + 1)[number]
    begins = np.searchsorted(number, number) - 1
    with np.errstate(divide="ignore"):
        power = np.log10(np.abs(step))
    least = np.where(np.isclose(power, np.round(power), atol=1e-6), 2, 5)
    is_run = ~np.isnan(step) & (step != 0) & (steps >= least)
    length = np.where(is_run, steps + 1.0, 0.0)
    first = np.where(is_run, begins, -1)
    starts = begins[is_run]  # the row before a run's first step belongs to it
    longer = length[starts] < length[is_run]
    length[starts[longer]], first[starts[longer]] = length[is_run][longer], starts[longer]
    return length, first


def _km_from_same_day(rows: pd.DataFrame, latitude: pd.Series, longitude: pd.Series) -> pd.Series:
    """km to the nearest other place of the person on that day, where the day's places lie far apart."""
    far = np.full(len(rows), np.nan)
    points = pd.DataFrame(
        {
            "person_id": rows["person_id"],
            "day": rows["eventDate"],
            "latitude": latitude,
            "longitude": longitude,
        }
    )
    # A point that lies outside the region is asked about itself; it says nothing about the others.
    is_told = (points["person_id"] != "") & (points["day"] != "") & rows["is_in_region"]
    points["at"] = np.arange(len(points))
    points = points[is_told & (rows["recordKind"] == "release")].dropna()
    days = points.groupby(["person_id", "day"])[["latitude", "longitude"]]
    spread = (days.transform("max") - days.transform("min")).max(axis=1)
    for _, day in points[spread > COMPACT_DEGREES].groupby(["person_id", "day"]):
        places, codes = _places_of_day(day)
        far[day["at"].to_numpy()] = _nearest_km(places)[codes]
    return pd.Series(far, index=rows.index)


def _places_of_day(day: pd.DataFrame) -> tuple[Degrees, npt.NDArray[Any]]:
    places, codes = np.unique(day[["latitude", "longitude"]].to_numpy(), axis=0, return_inverse=True)
    return places, codes.reshape(-1)


def _nearest_km(places: Degrees) -> Degrees:
    size = len(places)
    one, other = np.repeat(np.arange(size), size), np.tile(np.arange(size), size)
    _, _, metres = GEOD.inv(places[one, 1], places[one, 0], places[other, 1], places[other, 0])
    km = np.asarray(metres).reshape(size, size) / 1000
    np.fill_diagonal(km, np.inf)
    nearest: Degrees = km.min(axis=1)
    return nearest
