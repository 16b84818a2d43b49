"""Adds what the rows' positions are: numbers, countries, distances to the day's other places and to homes."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import numpy.typing as npt
import pandas as pd
from pyproj import Geod

from pipeline.settings import Settings
from pipeline.values.atlas import Atlas
from pipeline.values.position import decimals

Degrees = npt.NDArray[np.float64]
GEOD = Geod(ellps="WGS84")
MARK = "\x1f"
NUMBER = r"[-+]?\d+(?:\.\d+)?"
NEAR_KM = 2.0
KM_PER_DEGREE = 110.0  # of latitude, at the least
SITE_METRES = 500  # of a site whose extent is not stated


def look_up_places(
    rows: pd.DataFrame, known: tuple[pd.DataFrame, pd.DataFrame], settings: Settings, atlas: Atlas
) -> dict[str, pd.Series]:
    """The facts about places; `known` are the homes on file (latitude, longitude) and the programme's own sites
    (also uncertainty_m and public), in degrees and metres."""
    homes, sites = known
    latitude, longitude = _degrees(rows, "decimalLatitude"), _degrees(rows, "decimalLongitude")
    words = rows[["locality", "municipality", "county", "stateProvince"]] != ""
    return {
        "latitude": latitude,
        "longitude": longitude,
        "latitude_decimals": _decimals(rows["decimalLatitude"], rows["decimalLatitude_written"]),
        "longitude_decimals": _decimals(rows["decimalLongitude"], rows["decimalLongitude_written"]),
        "has_place_words": words.any(axis=1),
        **_countries(rows, latitude, longitude, settings, atlas),
        "km_from_home": _km_from(latitude, longitude, homes),
        "is_public_site": _is_public(latitude, longitude, sites),
        "is_unsigned_west": _is_unsigned(rows["decimalLongitude_written"], longitude, settings),
    }


def _degrees(rows: pd.DataFrame, field: str) -> pd.Series:
    """The number, also beyond the globe; missing where the cell could not be read."""
    texts = rows[field].where(rows[f"{field}_doubt"].isin(["", "off-the-globe"]), "")
    return pd.to_numeric(texts.where(texts.str.fullmatch(NUMBER)), errors="coerce").astype("float64")


def _decimals(values: pd.Series, written: pd.Series) -> pd.Series:
    """How many decimals a degree was written with; missing where it was worked out from minutes or a grid."""
    codes, unique = pd.factorize(values + MARK + written.str.replace(",", "."))
    apart = (text.partition(MARK) for text in unique)
    counts = [decimals(value) if value.lstrip("-") in typed else None for value, _, typed in apart]
    return pd.Series(counts, dtype="float64").take(codes).set_axis(values.index)


def _countries(
    rows: pd.DataFrame, latitude: pd.Series, longitude: pd.Series, settings: Settings, atlas: Atlas
) -> dict[str, pd.Series]:
    country_at = atlas.country_at
    here = _country(latitude, longitude, country_at)
    region = list(settings.region.countries)
    is_odd = latitude.notna() & longitude.notna() & ~here.isin(region)
    crossed = _country(longitude.where(is_odd), latitude.where(is_odd), country_at)
    minus = _country(latitude.where(is_odd & (longitude > 0)), -longitude, country_at)
    return {
        "country_at_point": here,
        "km_outside_country": _km_outside(rows, latitude, longitude, here, atlas),
        "country_if_crossed": crossed,
        "country_if_minus": minus,
        "is_in_region": here.isin(region),
        "crossed_is_in_region": crossed.isin(region),
        "minus_is_in_region": minus.isin(region),
    }


def _country(
    latitude: pd.Series, longitude: pd.Series, country_at: Callable[[Degrees, Degrees], npt.NDArray[np.str_]]
) -> pd.Series:
    """The country at each point, each unique point asked once."""
    points = pd.DataFrame({"latitude": latitude, "longitude": longitude}).dropna()
    unique = points.drop_duplicates()
    codes = country_at(unique["latitude"].to_numpy(), unique["longitude"].to_numpy())
    known = unique.assign(country=pd.Series(codes, index=unique.index, dtype="str"))
    found = points.merge(known, on=["latitude", "longitude"], how="left").set_axis(points.index)["country"]
    return found.reindex(latitude.index).fillna("").astype("str")


def _km_outside(
    rows: pd.DataFrame, latitude: pd.Series, longitude: pd.Series, here: pd.Series, atlas: Atlas
) -> pd.Series:
    """km by which each point lies outside the country that its row names; 0 inside."""
    claimed = rows["countryCode"].where(rows["countryCode_doubt"] == "", "")
    is_asked = latitude.notna() & longitude.notna() & (claimed != "")
    km = pd.Series(0.0, index=rows.index).where(is_asked)
    away = is_asked & (here != claimed)
    if away.any():
        points = latitude[away].to_numpy(), longitude[away].to_numpy()
        km[away] = atlas.km_outside(*points, claimed[away].to_numpy().astype("<U2"))
    return km


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
