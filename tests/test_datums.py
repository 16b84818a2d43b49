"""Datums: names, the way to WGS 84, and what it adds to the radius round a point."""

from __future__ import annotations

import math

import numpy as np
import pandas as pd
import pytest
from example_tables import read_examples
from geographiclib.geodesic import Geodesic
from hypothesis import given
from hypothesis import strategies as st
from pyproj import CRS, Proj

from pipeline.files.schemas import lists
from pipeline.settings import Settings, read_settings
from pipeline.stages.look_up_points import look_up_points
from pipeline.values.datum import datum_code, on_its_own_grid, to_wgs84

KNOWN = lists().datums
CLARKE_1866 = (6378206.4, 6356583.8)  # metres (EPSG 7008)
WGS_84 = (6378137.0, 6356752.314245)  # EPSG 7030
INTERNATIONAL = (6378388.0, 6356911.946)  # EPSG 7022

NAMES = [  # written before the reader; codes are those of the EPSG dataset
    ("WGS84", "4326"), ("WGS 84", "4326"), ("wgs-84", "4326"), ("WGS 1984", "4326"), ("GPS", "4326"),
    ("GPS (WGS84)", "4326"), ("EPSG:4326", "4326"), ("epsg 4326", "4326"), ("4326", "4326"),
    ("urn:ogc:def:crs:EPSG::4326", "4326"), ("lat/long WGS84", "4326"), ("UTM zone 20N WGS84", "4326"),
    ("EPSG:32620", "4326"), ("EPSG:3857", "4326"),
    ("NAD27", "4267"), ("NAD 27", "4267"), ("nad-27", "4267"), ("NAD27 CONUS", "4267"), ("GPS set to NAD27", "4267"),
    ("North American Datum of 1927", "4267"), ("North American Datum 1927", "4267"), ("EPSG:26720", "4267"),
    ("NAD83", "4269"), ("NAD 83", "4269"), ("NAD83 / UTM zone 20N", "4269"), ("UTM Zone 20, NAD 83", "4269"),
    ("EPSG:26920", "4269"), ("NAD83(CSRS)", "4617"), ("NAD83 (CSRS) v6", "4617"), ("SCRS", "4617"),
    ("ATS77", "4122"), ("ED50", "4230"), ("SIRGAS 2000", "4674"), ("GDA94", "4283"), ("Tokyo", "4301"),
    ("decimal degrees", "none"), ("UTM", "none"), ("UTM 20N", "none"), ("zone 20", "none"), ("Degrés décimaux", "none"),
    ("", "none"),
    ("NAD27 or NAD83", ""), ("WGS84/NAD27", ""), ("NAD", ""), ("the old one", ""), ("my phone", ""),
    ("EPSG:99999", ""), ("EPSG:5773", ""),
]  # fmt: skip


@pytest.mark.parametrize(("name", "code"), NAMES, ids=[name or "nothing" for name, _ in NAMES])
def test_a_datum_is_known_by_its_names_and_codes(name: str, code: str) -> None:
    assert datum_code(name, KNOWN) == code


def shifted(latitude: float, longitude: float, axes: tuple, by: tuple) -> tuple[float, float]:
    """Degrees on WGS 84 after a geocentric translation (EPSG guidance note 7-2, methods 9602 and 9603); no heights."""
    own, other = axes
    phi, lam = math.radians(latitude), math.radians(longitude)
    square = 1 - (own[1] / own[0]) ** 2
    prime = own[0] / math.sqrt(1 - square * math.sin(phi) ** 2)
    x, y, z = (
        prime * math.cos(phi) * math.cos(lam) + by[0],
        prime * math.cos(phi) * math.sin(lam) + by[1],
        prime * (1 - square) * math.sin(phi) + by[2],
    )
    square = 1 - (other[1] / other[0]) ** 2
    flat = math.hypot(x, y)
    phi = math.atan2(z, flat * (1 - square))
    for _ in range(10):
        prime = other[0] / math.sqrt(1 - square * math.sin(phi) ** 2)
        phi = math.atan2(z + square * prime * math.sin(phi), flat)
    return math.degrees(phi), math.degrees(math.atan2(y, x))


def test_the_translation_that_we_compare_with_is_that_of_the_guidance_note() -> None:
    # EPSG guidance note 7-2, worked example WGS 84 to ED50; heights (73.0 and 28.02 m) move no angle by 0.01".
    found = shifted(
        53 + 48 / 60 + 33.82 / 3600, 2 + 7 / 60 + 46.38 / 3600, (WGS_84, INTERNATIONAL), (84.87, 96.49, 116.95)
    )
    expected = 53 + 48 / 60 + 36.565 / 3600, 2 + 7 / 60 + 51.477 / 3600
    assert found == pytest.approx(expected, abs=0.01 / 3600)


PLACES = [  # place, point in NAD27, number of the operation and dx, dy, dz of EPSG: NAD27 to WGS 84 (number)
    ("Toronto", 43.65, -79.38, 12, (-22, 160, 190)),
    ("Halifax", 44.65, -63.57, 12, (-22, 160, 190)),
    ("Lawrence", 38.97, -95.2, 6, (-8, 159, 175)),
    ("Cape May", 38.93, -74.9, 4, (-8, 160, 176)),
    ("Angangueo", 19.62, -100.28, 18, (-12, 130, 190)),
    ("Anchorage", 61.2, -149.9, 7, (-5, 135, 172)),
]


@pytest.mark.parametrize(("place", "north", "east", "number", "by"), PLACES, ids=[place[0] for place in PLACES])
def test_an_old_north_american_point_is_brought_to_wgs_84(
    place: str, north: float, east: float, number: int, by: tuple
) -> None:
    moved = to_wgs84(np.array([north]), np.array([east]), "4267")
    expected = shifted(north, east, (CLARKE_1866, WGS_84), by)
    assert moved.operation.tolist() == [f"NAD27 to WGS 84 ({number})"]
    assert (moved.latitude[0], moved.longitude[0]) == pytest.approx(expected, abs=2e-7)  # 7 decimals
    way = Geodesic.WGS84.Inverse(north, east, moved.latitude[0], moved.longitude[0])["s12"]
    assert 10 < way < 140 and moved.metres[0] >= 7  # EPSG's stated accuracies here are 7 to 12 m


def test_where_no_operation_is_known_the_point_is_left() -> None:
    turin, moncton = to_wgs84(np.array([45.1]), np.array([7.7]), "4267"), to_wgs84(
        np.array([46.1]), np.array([-64.8]), "4122")  # fmt: skip
    for moved in (turin, moncton):  # outside the datum's part of the world; and a datum that needs a grid of shifts
        assert np.isnan(moved.latitude[0]) and moved.operation.tolist() == [""]


@given(st.floats(41, 47), st.floats(-67, -61))
def test_a_point_is_never_moved_farther_than_the_datums_lie_apart(north: float, east: float) -> None:
    moved = to_wgs84(np.array([north]), np.array([east]), "4267")
    if moved.operation[0]:
        # 0.4 to 117.5 m between NAD27 and WGS 84 over 15-60 N, 130-52 W: own figure with PROJ, facts of geodesy
        assert Geodesic.WGS84.Inverse(north, east, moved.latitude[0], moved.longitude[0])["s12"] < 120


def test_metres_of_a_grid_are_those_of_the_datums_own_ellipsoid() -> None:
    # Snyder 1987, USGS Professional Paper 1395, UTM example on Clarke 1866: from memory, good to 0.1 m
    metres = (627106.5, 4484124.4)
    as_read = Proj(proj="utm", zone=18, ellps="WGS84")(*metres, inverse=True)
    north, east = on_its_own_grid((as_read[1], as_read[0]), 18, "4267")
    assert (north, east) == pytest.approx((40.5, -73.5), abs=2e-6)


def looked_up(settings: str = "", **cells: str) -> pd.DataFrame:
    names = {"decimalLatitude": "45.9000", "decimalLongitude": "-64.3700"} | cells
    text = "\n".join([" | ".join(names), " | ".join(f'"{cell}"' for cell in names.values())])
    rows = read_examples(text, "row")[0].cells
    told = read_settings(settings) if settings else Settings()
    return pd.DataFrame(look_up_points(rows, KNOWN, told)).iloc[0]


RADII = [  # 0.0001 degree at 45.9 N: 11.1 by 7.8 m, 13.6 m across; 30 m of the receiver
    ("no datum named", {}, "4326", "", 44),
    ("as phones give it", {"geodeticDatum": "WGS84"}, "4326", "", 44),
    ("a word that names none", {"geodeticDatum": "decimal degrees"}, "4326", "", 44),
    ("nearly the same", {"geodeticDatum": "NAD83"}, "4269", "NAD83 to WGS 84 (1)", 48),
    ("not known", {"geodeticDatum": "the old one"}, "", "", 164),
    ("no way from there", {"geodeticDatum": "ATS77"}, "4122", "", 164),
    ("stated, and not known", {"geodeticDatum": "my map", "coordinateUncertaintyInMeters": "10"}, "", "", 130),
    ("stated in WGS 84", {"coordinateUncertaintyInMeters": "10"}, "4326", "", 10),
]


@pytest.mark.parametrize(
    ("cells", "code", "operation", "metres"), [one[1:] for one in RADII], ids=[one[0] for one in RADII]
)
def test_what_a_datum_leaves_open_is_added_to_the_radius(
    cells: dict[str, str], code: str, operation: str, metres: float
) -> None:
    found = looked_up(**cells)
    assert (found["datum_code"], found["datum_operation"], found["point_metres"]) == (code, operation, metres)
    assert (found["latitude"], found["longitude"]) == (45.9, -64.37)


def test_the_datum_of_the_settings_stands_where_a_sheet_names_none() -> None:
    assert looked_up("[region]\ndatum = 'NAD27'\n")["datum_operation"] == "NAD27 to WGS 84 (12)"
    assert looked_up("[region]\ndatum = ''\nunknown_datum_metres = 50\n")["point_metres"] == 94
    assert looked_up("[region]\ndatum = 'our map'\nunknown_datum_metres = 50\n")["point_metres"] == 94


def test_a_moved_point_moves_and_its_decimals_stay_those_that_were_written() -> None:
    found = looked_up(geodeticDatum="NAD27")
    assert (found["latitude"], found["longitude"]) != (45.9, -64.37) and found["latitude_decimals"] == 4
    assert found["point_metres"] >= 44 + 9  # accuracy of NAD27 to WGS 84 (12): 9 m


def test_every_code_of_the_list_is_one_of_degrees_that_the_dataset_has() -> None:
    for code in {*KNOWN.values()} - {"none"}:
        assert CRS.from_epsg(int(code)).is_geographic, code
