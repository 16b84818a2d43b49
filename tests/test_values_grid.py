"""Grids, standard strings and links: a whole point in one text, held against published points where known."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pyproj import Transformer

from pipeline.values import position
from pipeline.values.grid import read_point

NEAR = 2e-5  # degrees, about 2 m: the sources print metres
# text, latitude, longitude, how the notation is called
POINTS = [
    # "33.3 N 44.4 E: 38N 444140.54, 3684706.36, MGRS 38SMB4414084706" (from memory; PROJ gives the same)
    ("38S 444140.54 3684706.36 north", 33.3, 44.4, "UTM"),
    ("38 N 444140.54 3684706.36", 33.3, 44.4, "UTM"),
    ("UTM zone 38N 444141 3684706", 33.3, 44.4, "UTM"),
    ("38SMB4414084706", 33.3, 44.4, "MGRS"),
    ("38S MB 44140 84706", 33.3, 44.4, "MGRS"),
    ("38s mb 44140 84706", 33.3, 44.4, "MGRS"),
    # "17T 630000 4833400: 43.6422344, -79.3881931 (WGS84)" (PROJ 9.5)
    ("17T 630000 4833400", 43.6422344, -79.3881931, "UTM"),
    ("17 T 0630000E 4833400N", 43.6422344, -79.3881931, "UTM"),
    ("17T 630000 mE 4833400 mN", 43.6422344, -79.3881931, "UTM"),
    ("630000 mE, 4833400 mN, zone 17T", 43.6422344, -79.3881931, "UTM"),
    ("630000 E 4833400 N (UTM 17 nord)", 43.6422344, -79.3881931, "UTM"),
    ("UTM 17 norte 630000, 4833400", 43.6422344, -79.3881931, "UTM"),
    ("E 630000 N 4833400 Zone 17T", 43.6422344, -79.3881931, "UTM"),
    # Flinders Peak, zone 55 South: -37 57 03.7203, 144 25 29.5244 (GDA technical manual; from memory)
    ("55 South 273741.297 5796489.777", -37.95103342, 144.42486789, "UTM"),
    ("55H 273741 5796490", -37.95103342, 144.42486789, "UTM"),
    ("55 sud 273741.3 5796489.8", -37.95103342, 144.42486789, "UTM"),
    # "+40.20361-075.00417CRSWGS_84/", ISO 6709
    ("+40.20361-075.00417CRSWGS_84/", 40.20361, -75.00417, "ISO 6709"),
    ("+40.20361-075.00417/", 40.20361, -75.00417, "ISO 6709"),
    ("+275916+0865640/", 27.98777778, 86.94444444, "ISO 6709"),  # sexagesimal, as its user's guide has it
    ("+2759+08656/", 27.98333333, 86.93333333, "ISO 6709"),
    ("+2759.27+08656.67+8850/", 27.98783333, 86.9445, "ISO 6709"),
    ("-12.5-045/", -12.5, -45.0, "ISO 6709"),
    # RFC 5870
    ("geo:13.4125,103.8667", 13.4125, 103.8667, "geo URI"),
    ("geo:48.2010,16.3695,183", 48.2010, 16.3695, "geo URI"),
    ("geo:48.198634,16.371648;crs=wgs84;u=40", 48.198634, 16.371648, "geo URI"),
    # links of several makes, none of them followed
    ("https://example.org/maps/@45.9003,-64.3701,15z", 45.9003, -64.3701, "map link"),
    ("https://example.org/?q=45.9003,-64.3701", 45.9003, -64.3701, "map link"),
    ("https://example.org/maps?ll=45.9003,-64.3701&z=14", 45.9003, -64.3701, "map link"),
    ("https://example.org/search/?api=1&query=45.9003%2C-64.3701", 45.9003, -64.3701, "map link"),
    ("https://example.org/?mlat=45.9003&mlon=-64.3701#map=15/45.9000/-64.3700", 45.9003, -64.3701, "map link"),
    ("https://example.org/#map=15/45.9003/-64.3701", 45.9003, -64.3701, "map link"),
    ("see https://example.org/?q=loc:45.9003,-64.3701 (the gate)", 45.9003, -64.3701, "map link"),
]


@pytest.mark.parametrize(("text", "latitude", "longitude", "system"), POINTS, ids=[case[0] for case in POINTS])
def test_a_point_in_one_text_is_where_its_source_says(
    text: str, latitude: float, longitude: float, system: str
) -> None:
    one, other = position.read_pair(text)
    assert (one.doubt, other.doubt) == ("", "")
    assert float(one.value) == pytest.approx(latitude, abs=NEAR)
    assert float(other.value) == pytest.approx(longitude, abs=NEAR)
    found = read_point(text)
    assert found is not None and found.system == system


IN_DOUBT = [
    ("14S 500000 4000000", "two-readings"),  # band S, 32 to 40 N, or the southern half
    ("17 630000 4833400", "two-readings"),  # neither half nor band
    ("20T 400000 50900", "not-a-number"),  # a digit lost: the band does not fit
    ("61T 400000 5090000", "not-a-number"),
    ("20T 40000 5090000", "not-a-number"),
    ("38SMB441408470", "not-a-number"),  # an odd number of digits
    ("38SIB4414084706", "not-a-number"),  # no such letter
    ("61SMB4414084706", "not-a-number"),
    ("+91.0-045/", "not-a-number"),
    ("geo:95,10", "not-a-number"),
    ("geo:48.2,16.3;crs=nad27", "not-a-number"),
    ("https://example.org/x", "not-a-number"),
    ("https://example.org/?q=Truro", "not-a-number"),
]


@pytest.mark.parametrize(("text", "doubt"), IN_DOUBT, ids=[case[0] for case in IN_DOUBT])
def test_what_is_no_single_point_is_asked_about(text: str, doubt: str) -> None:
    readings = position.read_pair(text)
    assert {reading.doubt for reading in readings} == {doubt}
    assert {reading.value for reading in readings} == {text}


def test_both_readings_of_a_letter_that_means_two_things_are_offered() -> None:
    one, other = position.read_pair("14S 500000 4000000")
    assert [round(float(value), 3) for value in one.candidates] == [36.145, -54.148]
    assert other.candidates == ("-99.0000000", "-99.0000000")


PACKED = [
    ("453012N", "latitude", "45.5033333"),
    ("0644812W", "longitude", "-64.8033333"),
    ("644812W", "longitude", "-64.8033333"),
    ("1001550.4 W", "longitude", "-100.2640000"),
]


@pytest.mark.parametrize(("text", "axis", "value"), PACKED, ids=[case[0] for case in PACKED])
def test_degrees_minutes_and_seconds_packed_together_are_read(text: str, axis: str, value: str) -> None:
    assert position.read(text, "t", axis).value == value


@pytest.mark.parametrize("text", ["4530.2N", "456112N", "453061N", "453012"])
def test_packed_figures_that_may_be_something_else_are_asked_about(text: str) -> None:
    assert position.read(text, "t", "latitude").doubt != ""


def test_the_steps_of_a_grid_are_known() -> None:
    steps = [read_point(text) for text in ("38SMB4414084706", "38SMB441847", "38SMB", "17T 630000 4833400")]
    metres = [round(found.step * 111_320) for found in steps if found]
    assert metres == [1, 100, 100_000, 1], "a square is its middle, and no finer than its side"


@given(
    st.integers(1, 60),
    st.booleans(),
    st.integers(200_000, 800_000),
    st.integers(100_000, 9_000_000),
)
def test_a_point_of_the_grid_is_where_another_library_has_it(zone: int, is_south: bool, east: int, north: int) -> None:
    # PROJ is the reference for the projection.
    crs = f"EPSG:{(32700 if is_south else 32600) + zone}"
    longitude, latitude = Transformer.from_crs(crs, "EPSG:4326", always_xy=True).transform(east, north)
    found = read_point(f"{zone} {'south' if is_south else 'north'} {east} {north}")
    if abs(latitude) > 84:
        return
    assert found is not None
    assert float(found.latitude) == pytest.approx(latitude, abs=1e-6)
    assert float(found.longitude) == pytest.approx(longitude, abs=1e-6)


@given(st.text(max_size=60) | st.text("0123456789 nsewtumbgo:+-./,@?=&", max_size=60))
def test_any_text_is_read_without_a_fault(text: str) -> None:
    found = read_point(text)
    assert found is None or (abs(float(found.latitude)) <= 90 and abs(float(found.longitude)) <= 180)
    for reading in position.read_pair(text):
        assert reading.value or not text.strip() or reading.change
