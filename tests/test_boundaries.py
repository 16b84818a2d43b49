"""The packed boundaries: what they hold, what lies at a point, how far points lie from lines."""

from __future__ import annotations

import csv
import hashlib
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest
import shapely
from geographiclib.geodesic import Geodesic
from hypothesis import given
from hypothesis import settings as tried
from hypothesis import strategies as st

from pipeline.files.boundaries import ATLAS
from pipeline.files.boundary_layers import TORN, counties, lakes, layer, world
from pipeline.files.outlines import clipped, near, nearest, outlines_of
from pipeline.files.schemas import lists, table

ROOT = Path(__file__).parent.parent
FOLDER = ROOT / "schemas/boundaries"


def at(*points: tuple[float, float]) -> tuple[np.ndarray, np.ndarray]:
    return np.array([float(north) for north, _ in points]), np.array([float(east) for _, east in points])


# The control values of the boundaries as they came, and places that are hard; from memory of any atlas.
PLACES = [
    ("Toronto", (43.65, -79.38), "CA", "CA-ON", ""),
    ("Angangueo", (19.62, -100.285), "MX", "MX-MIC", ""),
    ("Wellington", (-41.29, 174.77), "NZ", "NZ-WGN", ""),
    ("Mexico City, MX-DIF before", (19.43, -99.13), "MX", "MX-CMX", ""),
    ("Durban, ZA-NL before", (-29.85, 31.03), "ZA", "ZA-KZN", ""),
    ("Bergen, NO-12 before", (60.39, 5.32), "NO", "NO-46", ""),
    ("Paris, FR-75 before", (48.85, 2.35), "FR", "FR-75C", ""),
    ("Jervis Bay, no code of ISO", (-35.15, 150.70), "AU", "", ""),
    ("Lord Howe, a second shape of its state", (-31.55, 159.08), "AU", "AU-NSW", ""),
    ("Christmas Island, no country in the source", (-10.45, 105.66), "CX", "", ""),
    ("Cocos Islands, likewise", (-12.17, 96.83), "CC", "", ""),
    ("Guadeloupe, a country code of its own", (16.25, -61.55), "GP", "FR-971", ""),
    ("Puerto Rico, likewise", (18.40, -66.10), "PR", "US-PR", "72127"),
    ("Northern Cyprus, disputed", (35.30, 33.60), "", "", ""),
    ("Crimea, disputed", (45.00, 34.10), "", "UA-43", ""),
    ("Chincoteague, missing in one source", (37.933, -75.379), "US", "US-VA", "51001"),
    ("New Haven, a county of before 2022", (41.308, -72.928), "US", "US-CT", "09009"),
    ("Halifax, drawn at sea", (44.6427, -63.5769), "CA", "CA-NS", ""),
    ("Monhegan, on no map of ours", (43.765, -69.316), "US", "US-ME", ""),
    ("west of 180 degrees", (-16.80, 179.99), "FJ", "FJ-N", ""),
    ("east of 180 degrees", (-16.80, -179.95), "FJ", "FJ-N", ""),
    ("in the middle of the Atlantic", (40.0, -40.0), "", "", ""),
    ("off the globe", (95.0, -64.0), "", "", ""),
]


@pytest.mark.parametrize(
    ("point", "country", "state", "county"), [case[1:] for case in PLACES], ids=[case[0] for case in PLACES]
)
def test_what_lies_at_a_point(point: tuple[float, float], country: str, state: str, county: str) -> None:
    points = at(point)
    assert (ATLAS.country_at(*points)[0], ATLAS.state_at(*points)[0]) == (country, state)
    assert ATLAS.county_at(*points)[0] == county


# Kilometres from land; of a lake to its nearest shore or island. From maps, roughly.
WATER = [
    ("the middle of Lake Erie, on the side of Ohio", (41.80, -81.60), 15, 45),
    ("Pelee Island in Lake Erie", (41.77, -82.65), 0, 0),
    ("an island of Lake Michigan", (45.65, -85.55), 0, 0),
    ("the middle of Lake Superior", (47.60, -88.00), 10, 70),
    ("Lake Okeechobee, where counties meet", (26.95, -80.80), 10, 30),
    ("the Toronto Islands, not drawn", (43.62, -79.38), 0, 0),
    ("off Halifax", (44.20, -63.20), 30, 60),
    ("Sable Island", (43.93, -59.92), 0, 0),
    ("a field", (45.90, -64.37), 0, 0),
    ("the Gulf of Mexico", (25.0, -90.0), 250, 400),
]


@pytest.mark.parametrize(("point", "least", "most"), [case[1:] for case in WATER], ids=[case[0] for case in WATER])
def test_how_far_a_point_lies_out_on_the_water(point: tuple[float, float], least: float, most: float) -> None:
    assert least <= ATLAS.km_to_land(*at(point))[0] <= most


def test_beyond_400_km_from_land_the_sea_is_not_measured() -> None:
    assert np.isinf(ATLAS.km_to_land(*at((40.0, -40.0))))[0]


def test_the_middle_of_lake_erie_lies_in_a_state_and_on_water() -> None:
    assert ATLAS.state_at(*at((41.80, -81.60)))[0] == "US-OH"


OUTSIDE = [
    ("inside", (45.9, -64.4), "CA", 0.0),
    ("St. Stephen", (45.192, -67.277), "CA", 0.08),
    ("a country that has not our name", (45.9, -64.4), "ZZ", None),
    ("disputed: we do not choose", (35.3, 33.6), "TR", None),
    ("disputed, one of the names", (35.3, 33.6), "CY", 0.0),
    ("a dependency under its country", (18.4, -66.1), "US", 0.0),
    ("Western Sahara", (27.15, -13.2), "EH", 0.0),
    ("off the globe", (95.0, -64.0), "CA", None),
]


@pytest.mark.parametrize(("point", "code", "km"), [case[1:] for case in OUTSIDE], ids=[case[0] for case in OUTSIDE])
def test_how_far_a_point_lies_outside_a_country(point: tuple[float, float], code: str, km: float | None) -> None:
    (found,) = ATLAS.km_outside(*at(point), np.array([code]))
    assert np.isnan(found) if km is None else found == pytest.approx(km, abs=0.02)


def test_a_distance_across_180_degrees_is_the_short_one() -> None:
    # From the sea west of 180 degrees to the shape of Taveuni that is cut there.
    points = at((-16.8, 179.0), (-16.8, -178.5))
    km = ATLAS.km_outside_state(*points, np.array(["FJ-N", "FJ-N"]))
    assert (km < 170).all()


def test_a_larger_division_and_a_state_that_stands_for_two_are_claims_too() -> None:
    paris = at((48.85, 2.35), (48.85, 2.35), (60.39, 5.32))
    assert ATLAS.km_outside_state(*paris, np.array(["FR-IDF", "FR-75C US-TX", "NO-46"])).tolist() == [0, 0, 0]
    assert np.isnan(ATLAS.km_outside_state(*at((-35.15, 150.70)), np.array(["AU-NSW"])))[0]  # not settled there


def test_how_far_inside_its_state_and_county_a_point_lies() -> None:
    # The middle of Colorado: its borders run along 37 and 41 north, 109.05 and 102.05 west.
    km = ATLAS.km_inside_state(*at((39.0, -105.55)))[0]
    assert km == pytest.approx(Geodesic.WGS84.Inverse(39.0, -105.55, 41.0, -105.55)["s12"] / 1000, abs=1)
    assert 5 < ATLAS.km_inside_county(*at((39.0, -105.55)))[0] < 60
    assert np.isnan(ATLAS.km_inside_county(*at((45.9, -64.4))))[0]


def test_counties_are_found_by_state_and_name_a_city_beside_its_county() -> None:
    assert sorted(ATLAS.county_codes()["US-MD", "baltimore"].split()) == ["24005", "24510"]
    assert ATLAS.county_names()["24005"] == "Baltimore"
    both = ATLAS.km_outside_county(*at((39.29, -76.61), (39.29, -76.61)), np.array(["24005 24510", "99999"]))
    assert both[0] == 0 and np.isnan(both[1])


def test_what_may_lie_near_leaves_out_nothing_that_does() -> None:
    north, east = at((45.2, -67.4), (45.2, -67.4), (35, -45), (66.0, -179.9))
    near_by = ATLAS.claims_near(north, east, np.array([1.0, 30.0, 100.0, 50.0]))
    assert " US " in near_by[0] and " CA " in near_by[1] and near_by[2].strip() == "" and " RU " in near_by[3]


@tried(max_examples=60, deadline=None)
@given(st.floats(-70, 75), st.floats(-180, 180))
def test_the_nearest_place_agrees_with_a_search_through_all_corners(north: float, east: float) -> None:
    which = np.isin(world().states, ["US-CO", "FJ-N", "NO-46", "AU-TAS"])
    found = nearest(outlines_of(world().layer, which), *at((north, east))).km[0]
    corners = np.concatenate([shapely.get_coordinates(shape) for shape in world().layer.shapes[which]])
    least = min(Geodesic.WGS84.Inverse(north, east, *corner[::-1])["s12"] for corner in _few(corners, north, east))
    # A side may come nearer than a corner, and never lies farther; beyond 1,000 km only every 32nd corner is tried.
    assert found <= least / 1000 * (1.002 if least < 900_000 else 1.05) + 0.001
    assert found >= least / 1000 - 30  # no side there is longer than twice that, but for Colorado's
    few = near(outlines_of(world().layer, which), *at((north, east)), 50.0)
    assert few.km[0] == (pytest.approx(found, rel=1e-3) if found < 49 else few.km[0])


def _few(corners: np.ndarray, north: float, east: float) -> np.ndarray:
    """The corners that may be the nearest, by a chord through the globe."""
    longitude, latitude = np.radians(corners).T
    turn, height = np.radians(east), np.radians(north)
    cosine = np.sin(height) * np.sin(latitude) + np.cos(height) * np.cos(latitude) * np.cos(longitude - turn)
    return corners[np.argsort(-cosine)[:20]]


def test_only_the_shape_that_is_named_was_torn_by_rounding() -> None:
    for name in ("ne10m_admin1", "us_counties_2017_10m", "ne10m_lakes"):
        assert shapely.is_valid(layer(name).shapes).all(), name
    assert TORN == {"ne10m_admin1": "IT-GO"}


def test_every_code_that_we_bring_to_today_stands_in_the_source_and_every_state_has_a_shape() -> None:
    shapes = {line[3] for line in world().layer.lines} | {line[0] for line in world().layer.lines}
    assert {line["shape"] for line in table("boundaries/codes.csv")} <= shapes
    known = {*world().states.tolist(), *world().parts.tolist()}
    outlying = {"US-UM"}
    listed = {state.code for found in lists().states.values() for state in found}
    assert listed - known <= outlying
    assert not [code for code in known if code.endswith("~")]
    assert set(counties().states) <= known


def test_a_state_is_called_by_one_name_and_an_older_spelling_still_means_it() -> None:
    states = lists().states
    assert {state.code for state in states["bavaria"]} == {state.code for state in states["bayern"]} == {"DE-BY"}
    assert {state.country for state in states["florida"]} == {"US", "UY"}
    assert [state.name for state in states["nsw"]] == ["New South Wales"]


def test_the_files_are_those_of_the_readme_and_weigh_less_than_six_megabytes() -> None:
    told = (FOLDER / "README.md").read_text(encoding="utf-8")
    for path in FOLDER.glob("*.xz"):
        assert hashlib.sha256(path.read_bytes()).hexdigest() in told, path.name
    for path in FOLDER.iterdir():
        assert path.name.startswith("__") or f"`{path.name}`" in told or path.name == "README.md"
    assert sum(path.stat().st_size for path in FOLDER.iterdir() if path.is_file()) < 6_000_000


def test_what_lies_on_no_map_is_a_place_with_a_country() -> None:
    with (FOLDER / "islands.csv").open(encoding="utf-8", newline="") as file:
        lines = list(csv.DictReader(file))
    points = at(*((float(line["latitude"]), float(line["longitude"])) for line in lines))
    assert (ATLAS.km_to_land(*points) == 0).all()
    assert (ATLAS.country_at(*points) != "").mean() > 0.99


def test_nothing_is_read_before_a_point_is_asked_about() -> None:
    code = (
        "import numpy as np; from pipeline.files.boundaries import ATLAS; import pipeline.files.boundary_layers as b;"
        "none = np.zeros(0); [ask(none, none) for ask in (ATLAS.country_at, ATLAS.state_at, ATLAS.county_at,"
        " ATLAS.claims_at, ATLAS.km_to_land)]; ATLAS.claims_near(none, none, none);"
        "[ask(none, none, np.zeros(0, str)) for ask in (ATLAS.km_outside, ATLAS.km_outside_state,"
        " ATLAS.km_outside_county)]; print(b.layer.cache_info().currsize)"
    )
    ran = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True)
    assert ran.stdout.strip() == "0"


def test_a_line_and_an_area_are_cut_at_the_edge_of_the_drawing() -> None:
    square = np.array([[-5.0, -5], [5, -5], [5, 5], [-5, 5], [-5, -5]])
    (inside,) = clipped([square], (0, 0, 10, 10), is_ring=True)
    assert inside.min() == 0 and inside.max() == 5
    (line,) = clipped([np.array([[-5.0, 1], [20, 1]])], (0, 0, 10, 10), is_ring=False)
    assert line.tolist() == [[0, 1], [10, 1]]
    assert clipped([], (0, 0, 1, 1), is_ring=True) == []


def test_the_lakes_have_names_and_the_great_ones_are_among_them() -> None:
    from pipeline.files.boundary_points import GREAT

    assert {line[0] for line in lakes().lines} >= GREAT
