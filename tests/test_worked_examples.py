"""Published worked examples of geodesy, held against the library and the functions with which we measure."""

from __future__ import annotations

import math

import numpy as np
import pytest
from geographiclib.geodesic import Geodesic
from hypothesis import given
from hypothesis import strategies as st
from pyproj import CRS, Geod, Proj, Transformer

from pipeline.stages.match_finds import GEOD
from pipeline.values.utm import degrees_of


def degrees(told: str) -> float:
    """Degrees of "-37 57 03.7203"."""
    parts = [float(part) for part in told.replace("-", "").split()]
    return sum(part / 60**place for place, part in enumerate(parts)) * (-1 if told.startswith("-") else 1)


# Vincenty 1975, Survey Review XXIII 176, table II: ellipsoid, both latitudes, difference of longitude, metres, azimuths
# at the start and at the end. Tolerance 1 mm and 0.002"; d and e are nearly antipodal and have no azimuths here.
VINCENTY = [
    ("a", "bessel", "55 45", "-33 26", "108 13", 14_110_526.170, "96 36 08.79960", "137 52 22.01454"),
    ("b", "intl", "37 19 54.95367", "26 07 42.83946", "41 28 35.50729", 4_085_966.703,
     "95 27 59.63089", "118 05 58.96161"),
    ("c", "intl", "35 16 11.24862", "67 22 14.77638", "137 47 28.31435", 8_084_823.839,
     "15 44 23.74850", "144 55 39.92147"),
    ("d", "intl", "1", "-0 59 53.83076", "179 17 48.02997", 19_960_000.000, "", ""),
    ("e", "intl", "1", "1 01 15.18952", "179 46 17.84244", 19_780_006.558, "", ""),
]  # fmt: skip


@pytest.mark.parametrize("case", VINCENTY, ids=[f"line {case[0]}" for case in VINCENTY])
def test_the_geodesic_is_that_of_vincentys_table(case: tuple[str | float, ...]) -> None:
    _, ellipsoid, one, other, apart, metres, start, end = case
    azimuth, back, found = Geod(ellps=str(ellipsoid)).inv(
        0, degrees(str(one)), degrees(str(apart)), degrees(str(other))
    )
    assert found == pytest.approx(metres, abs=0.001)
    if start:
        assert azimuth == pytest.approx(degrees(str(start)), abs=0.002 / 3600)
        assert (back + 180) % 360 == pytest.approx(degrees(str(end)), abs=0.002 / 3600)


# Karney 2013, Journal of Geodesy 87:43, from memory: 40 N, azimuth 30, 10,000 km; and a nearly antipodal pair.
def test_the_geodesic_is_that_of_karneys_examples() -> None:
    east, north, back = GEOD.fwd(0, 40, 30, 10_000_000)
    assert (north, east, (back + 180) % 360) == pytest.approx(
        (41.79331020506, 137.84490004377, 149.09016931807), abs=1e-10
    )
    azimuth, back, metres = GEOD.inv(0, -30, 179.8, 29.9)
    assert (azimuth, (back + 180) % 360) == pytest.approx((161.89052473633, 18.09073724574), abs=1e-9)
    assert metres == pytest.approx(19_989_832.827610, abs=1e-5)


# GeographicLib's published test set for geodesics on WGS 84: metres to 1e-6, azimuth at the start where given.
TEST_SET = [
    (35.60777, -139.44815, -11.17491, -69.95921, 8_935_244.5604818305, 111.098748429560326),
    (-41.22777, 122.32875, -7.57291, 130.37946, 3_812_686.035106021, 14.285113402275739),
    (-19.79938, -174.47484, -11.99349, -154.35109, 2_319_004.8601169389, None),
]


@pytest.mark.parametrize("case", TEST_SET, ids=["to the equator", "along a coast", "across 180 degrees"])
def test_the_geodesic_is_that_of_the_published_test_set(case: tuple[float, ...]) -> None:
    north, east, to_north, to_east, metres, azimuth = case
    start, _, found = GEOD.inv(east, north, to_east, to_north)
    assert found == pytest.approx(metres, abs=1e-6)
    assert azimuth is None or start == pytest.approx(azimuth, abs=1e-9)


FLINDERS = ("-37 57 03.7203", "144 25 29.5244")
BUNINYONG = ("-37 39 10.1561", "143 55 35.3839")


def test_the_line_of_the_australian_manual_is_found() -> None:
    # Geocentric Datum of Australia technical manual, Flinders Peak to Buninyong, GRS80: to 1 mm and 0.01"
    (north, east), (to_north, to_east) = (tuple(map(degrees, place)) for place in (FLINDERS, BUNINYONG))
    azimuth, back, metres = Geod(ellps="GRS80").inv(east, north, to_east, to_north)
    assert metres == pytest.approx(54_972.271, abs=0.001)
    assert azimuth % 360 == pytest.approx(degrees("306 52 05.37"), abs=0.01 / 3600)
    assert back % 360 == pytest.approx(degrees("127 10 25.07"), abs=0.01 / 3600)


# The same manual, from memory: zones 55 and 54 on GRS80, to 1 mm.
@pytest.mark.parametrize(
    ("place", "zone", "east", "north"),
    [(FLINDERS, 55, 273_741.297, 5_796_489.777), (BUNINYONG, 54, 758_173.797, 5_828_674.340)],
    ids=["Flinders Peak", "Buninyong"],
)
def test_metres_on_the_grid_become_the_degrees_of_the_manual(
    place: tuple[str, str], zone: int, east: float, north: float
) -> None:
    found = degrees_of(zone, True, east, north)
    assert found == pytest.approx((degrees(place[0]), degrees(place[1])), abs=2e-8)  # 2 mm; WGS 84 for GRS80


def test_the_grid_is_that_of_snyders_example() -> None:
    # Snyder 1987, USGS Professional Paper 1395, p. 269, from memory: Clarke 1866, 40 30 N 73 30 W, zone 18; 0.1 m
    assert Proj(proj="utm", zone=18, ellps="clrk66")(-73.5, 40.5) == pytest.approx((627_106.5, 4_484_124.4), abs=0.06)


# EPSG guidance note 7-2, worked examples of Transverse Mercator. Tolerance 0.02 m.
def test_the_grids_of_the_guidance_note_are_found() -> None:
    british = Transformer.from_crs(CRS(27700).geodetic_crs, 27700, always_xy=True)
    assert british.transform(0.5, 50.5) == pytest.approx((577_274.99, 69_740.50), abs=0.02)
    lo29 = Transformer.from_crs(CRS(2053).geodetic_crs, 2053, always_xy=True)
    point = degrees("28 16 57.479"), degrees("-25 43 55.302")
    assert lo29.transform(*point) == pytest.approx((71_984.48, 2_847_342.74), abs=0.02)


def test_geocentric_metres_are_those_of_the_guidance_note() -> None:
    # EPSG guidance note 7-2, method 9602: WGS 84 53 48 33.82 N 2 07 46.38 E, 73.0 m
    to_metres = Transformer.from_crs(4979, 4978, always_xy=True)
    point = degrees("2 07 46.38"), degrees("53 48 33.82"), 73.0
    assert to_metres.transform(*point) == pytest.approx((3_771_793.968, 140_253.342, 5_124_304.349), abs=0.01)


@given(st.floats(-89, 89), st.floats(-179, 179), st.floats(-89, 89), st.floats(-179, 179))
def test_another_library_measures_the_same_way(north: float, east: float, to_north: float, to_east: float) -> None:
    ours = GEOD.inv(east, north, to_east, to_north)
    theirs = Geodesic.WGS84.Inverse(north, east, to_north, to_east)
    assert ours[2] == pytest.approx(theirs["s12"], abs=1e-6)
    if 1 < theirs["s12"] < 19_000_000:  # a bearing of nothing, or to the other side of the world, may be any
        turn = math.radians(ours[0] - theirs["azi1"])
        assert abs(math.atan2(math.sin(turn), math.cos(turn))) < 1e-6
    assert np.isfinite(ours[2])
