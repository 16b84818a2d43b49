"""Adds where the rows' points lie: in which country, near which homes and public sites."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
import numpy.typing as npt
import pandas as pd
from pyproj import Geod

from pipeline.settings import Settings
from pipeline.values.atlas import Atlas
from pipeline.values.points import points_of

GEOD = Geod(ellps="WGS84")
NEAR_KM = 2.0
KM_PER_DEGREE = 110.0  # of latitude, at the least
BORDER_KM = 1.0  # as roughly as borders are drawn
SITE_METRES = 500  # of a site whose extent is not stated


def look_up_places(
    rows: pd.DataFrame, known: tuple[pd.DataFrame, pd.DataFrame], settings: Settings, atlas: Atlas
) -> dict[str, pd.Series]:
    """The facts about places; `rows` has those of points, `known` are the homes on file
    (latitude, longitude) and the programme's own sites (also uncertainty_m and public), in degrees and metres."""
    homes, sites = known
    latitude, longitude = rows["latitude"], rows["longitude"]
    words = rows[["locality", "municipality", "county", "stateProvince"]] != ""
    return {
        "has_place_words": words.any(axis=1),
        **_countries(rows, settings, atlas),
        "km_from_home": _km_from(latitude, longitude, homes),
        "is_public_site": _is_public(latitude, longitude, sites),
        "is_unsigned_west": _is_unsigned(rows["decimalLongitude_written"], longitude, settings),
    }


def _countries(rows: pd.DataFrame, settings: Settings, atlas: Atlas) -> dict[str, Any]:
    latitude, longitude = rows["latitude"], rows["longitude"]
    region, points = settings.region.countries, points_of(latitude.to_numpy(), longitude.to_numpy())
    here = points.each(atlas.country_at, "")
    claimed = rows["countryCode"].where(rows["countryCode_doubt"] == "", "").to_numpy(dtype="str")
    is_here = (claimed != "") & (here == claimed)
    outside = points.each_claim(np.where(is_here, "", claimed), atlas.km_outside)
    inside = _inside(latitude, longitude, rows["point_metres"], region, atlas)
    is_odd = latitude.notna() & longitude.notna() & ~inside
    found = {
        "country_at_point": _texts(here, rows.index),
        "km_outside_country": pd.Series(np.where(is_here, 0, np.round(outside, 2)), index=rows.index),
        "is_in_region": inside,
    }
    return found | _read_otherwise(latitude.where(is_odd), longitude.where(is_odd), region, atlas)


def _read_otherwise(
    latitude: pd.Series, longitude: pd.Series, region: Sequence[str], atlas: Atlas
) -> dict[str, pd.Series]:
    """Where a point would lie with its numbers exchanged, or with a minus before one of them."""
    readings = {
        "crossed": (longitude, latitude),
        "minus": (latitude, -longitude.where(longitude > 0)),
        "south": (-latitude.where(latitude > 0), longitude),
    }
    found: dict[str, pd.Series] = {}
    for name, (north, east) in readings.items():
        points = points_of(north.to_numpy(), east.to_numpy())
        code = _texts(points.each(atlas.country_at, ""), latitude.index)
        found |= {f"country_if_{name}": code, f"{name}_is_in_region": code.isin(region)}
    del found["country_if_south"]
    return found


def _inside(
    latitude: pd.Series, longitude: pd.Series, metres: pd.Series, region: Sequence[str], atlas: Atlas
) -> pd.Series:
    """The point lies in a country of the settings, or no farther outside than its own uncertainty or a kilometre."""
    points = points_of(latitude.to_numpy(), longitude.to_numpy())
    inside = points.each(lambda north, east: _is_in(atlas.claims_at(north, east), region), False).astype("bool")
    inside |= np.isin(points.each(atlas.country_at, ""), list(region))
    rest = np.flatnonzero(~inside & (points.places >= 0))
    if not len(rest):
        return pd.Series(inside, index=latitude.index)
    north, east = latitude.to_numpy()[rest], longitude.to_numpy()[rest]
    reach = np.maximum(np.nan_to_num(metres.to_numpy()[rest]) / 1000, BORDER_KM)
    is_near = _is_in(atlas.claims_near(north, east, reach), region)
    near = points_of(np.where(is_near, north, np.nan), east)
    for code in region:
        inside[rest] |= near.each_claim(np.full(len(rest), code), atlas.km_outside) <= reach
    return pd.Series(inside, index=latitude.index)


def _is_in(claims: npt.NDArray[np.str_], region: Sequence[str]) -> npt.NDArray[np.bool_]:
    """Whether any code of the region stands among the claims, which lie between blanks."""
    unique, of_claim = np.unique(np.asarray(claims, dtype="str"), return_inverse=True)
    named = [any(f" {code} " in claim for code in region) for claim in unique.tolist()]
    return np.array(named, dtype="bool")[of_claim.reshape(-1)]


def _texts(values: npt.NDArray[Any], index: pd.Index) -> pd.Series:
    return pd.Series(values, index=index, dtype="str")


def _is_public(latitude: pd.Series, longitude: pd.Series, sites: pd.DataFrame) -> pd.Series:
    """The point lies at one of the programme's own places that anybody may know."""
    is_public = pd.Series(False, index=latitude.index)
    for metres, places in sites[sites["public"] == "yes"].groupby(sites["uncertainty_m"].fillna(SITE_METRES)):
        is_public |= _km_from(latitude, longitude, places, max(NEAR_KM, metres / 1000)) * 1000 <= metres
    return is_public


def _km_from(latitude: pd.Series, longitude: pd.Series, places: pd.DataFrame, reach_km: float = NEAR_KM) -> pd.Series:
    """km to the nearest of the places; missing where none lies within reach or little farther."""
    km = pd.Series(np.nan, index=latitude.index, dtype="float64")
    reach = reach_km / KM_PER_DEGREE
    for north, east in places[["latitude", "longitude"]].to_numpy(dtype="float64"):
        reach_east = reach / max(np.cos(np.radians(north)), reach)
        near = (latitude - north).abs().lt(reach) & (longitude - east).abs().lt(reach_east)
        index = latitude.index[near]
        if not len(index):
            continue
        size = len(index)
        lat, lon = latitude[index].to_numpy(), longitude[index].to_numpy()
        _, _, metres = GEOD.inv(lon, lat, np.full(size, east), np.full(size, north))
        km[index] = np.fmin(km[index], np.asarray(metres) / 1000)
    return km


def _is_unsigned(written: pd.Series, longitude: pd.Series, settings: Settings) -> pd.Series:
    """The longitude carries neither sign nor letter and the settings do not say how to read it."""
    if settings.region.unsigned_longitude != "ask":
        return pd.Series(False, index=written.index)
    return written.str.fullmatch(r"\d[\d.,°º˚'\"′″\s]*") & (longitude > 0)
