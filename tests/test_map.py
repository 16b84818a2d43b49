"""The season's map: an own drawing, of equal areas, that loads nothing and says what it shows."""

from __future__ import annotations

import re
import sqlite3
import xml.etree.ElementTree as ElementTree

import numpy as np
import pandas as pd
import pytest
from pyproj import Proj

from pipeline.files.map_drawing import SOURCE, draw_map
from pipeline.files.map_ground import WIDTH, equal_area
from pipeline.files.map_points import points_on_map

SVG = "{http://www.w3.org/2000/svg}"
NO_LINKS = pd.DataFrame({name: [] for name in ("latitude", "longitude", "find_latitude", "find_longitude")})


def points(*lines: tuple[str, float, float], is_rounded: bool = False) -> pd.DataFrame:
    kinds, north, east = zip(*lines, strict=True)
    return pd.DataFrame({"kind": kinds, "latitude": north, "longitude": east, "is_rounded": is_rounded})


def links(*lines: tuple[float, float, float, float]) -> pd.DataFrame:
    return pd.DataFrame(lines, columns=list(NO_LINKS.columns))


SEASON = points(
    *[("release", 45.9 + place / 200, -64.4) for place in range(20)], *[("release", 45.0, -64.4)] * 30,
    ("find", 39.0, -75.0), ("find", 19.6, -100.3),
)  # fmt: skip
JOURNEYS = links((45.9, -64.4, 39.0, -75.0), (45.0, -64.4, 19.6, -100.3))


def drawn(*what: pd.DataFrame) -> ElementTree.Element:
    return ElementTree.fromstring(draw_map(*what))


def test_the_projection_is_that_of_snyders_worked_example() -> None:
    # Snyder 1987, USGS PP 1395, numerical examples, Lambert azimuthal equal-area: a sphere of radius 3, centre 40 N
    # 100 W, the point 20 S 100 E is at -4.2339303, 4.0257775 (from memory, all digits).
    (place,) = equal_area(np.array([-20.0]), np.array([100.0]), (40.0, -100.0)) * 3
    assert place.tolist() == pytest.approx([-4.2339303, 4.0257775], abs=1e-7)


def test_the_projection_agrees_with_proj() -> None:
    north, east = np.array([19.6, 45.9, -30.0, 80.0]), np.array([-100.3, -64.4, 10.0, 170.0])
    expected = np.column_stack(Proj("+proj=laea +lat_0=40 +lon_0=-90 +R=1")(east, north))
    assert equal_area(north, east, (40.0, -90.0)) == pytest.approx(expected, abs=1e-9)


def test_a_square_degree_is_as_large_wherever_it_lies() -> None:
    def size(north: float, east: float) -> float:
        corners = np.array([[0, 0], [0, 1], [1, 1], [1, 0]]) * 0.01 + [north, east]
        x, y = equal_area(corners[:, 0], corners[:, 1], (40.0, -90.0)).T
        area = abs(np.dot(x, np.roll(y, 1)) - np.dot(y, np.roll(x, 1))) / 2
        return float(area / np.cos(np.radians(north + 0.005)))

    assert size(60.0, -60.0) == pytest.approx(size(20.0, -110.0), rel=1e-4)


def test_without_a_point_there_is_no_map() -> None:
    assert draw_map(SEASON[:0], NO_LINKS) == ""


def test_releases_are_dots_finds_are_diamonds_and_a_line_joins_them() -> None:
    page = drawn(SEASON, JOURNEYS)
    dots = [one for one in page.iter(f"{SVG}circle") if one.get("class") == "release"]
    diamonds = [one for one in page.iter(f"{SVG}path") if one.get("class") == "find"]
    assert len(dots) == 21 + 1 and len(diamonds) == 2 + 1  # and one of each in the key
    (ways,) = (one for one in page.iter(f"{SVG}path") if one.get("class") == "way")
    assert (ways.get("d") or "").count("M") == 2


def test_places_with_more_butterflies_have_larger_marks_that_say_how_many() -> None:
    page = drawn(SEASON, JOURNEYS)
    sizes = {one.findtext(f"{SVG}title"): float(one.get("r") or 0) for one in page.iter(f"{SVG}circle")}
    assert sizes["30 releases"] > sizes["1 release"]


def test_every_mark_lies_on_the_drawing() -> None:
    page = drawn(SEASON, JOURNEYS)
    _, _, width, height = map(float, (page.get("viewBox") or "").split())
    assert width == WIDTH
    for one in page.iter(f"{SVG}circle"):
        assert 0 < float(one.get("cx") or 0) < width and 0 < float(one.get("cy") or 0) < height


def test_it_loads_nothing_runs_nothing_and_tells_screen_readers_what_it_shows() -> None:
    text = draw_map(SEASON, JOURNEYS)
    assert not re.search(r"<script|<image|href=|url\((?!#)|@import|on\w+=", text)
    assert [*re.findall(r"https?://[^\"]*", text)] == ["http://www.w3.org/2000/svg"]
    page = drawn(SEASON, JOURNEYS)
    assert page.get("role") == "img"
    assert page.findtext(f"{SVG}title") == "Map of releases and finds"
    assert "50 releases and 2 finds" in (page.findtext(f"{SVG}desc") or "")
    assert re.search(r">\d+ km<", text) and "Natural Earth" in SOURCE


def test_the_same_season_gives_the_same_bytes_of_a_moderate_size() -> None:
    text = draw_map(SEASON, JOURNEYS)
    assert text == draw_map(SEASON.sample(frac=1, random_state=3), JOURNEYS[::-1])
    assert len(text) < 150_000


CLOSE = [
    ("one place", points(("release", 45.9, -64.4))),
    ("one county", points(("release", 45.9, -64.4), ("release", 45.5, -64.0))),
    ("both sides of 180 degrees", points(("release", -16.8, 179.9), ("release", -16.9, -179.9))),
    ("out at sea", points(("release", 40.0, -40.0))),
    ("an ocean between", points(("release", 45.9, -64.4), ("find", -36.8, 174.8))),
]


@pytest.mark.parametrize("where", [case[1] for case in CLOSE], ids=[case[0] for case in CLOSE])
def test_it_is_drawn_wherever_the_season_was(where: pd.DataFrame) -> None:
    text = draw_map(where, NO_LINKS)
    assert len(text) < 220_000
    for one in ElementTree.fromstring(text).iter(f"{SVG}circle"):
        assert 0 < float(one.get("cx") or 0) < WIDTH


def test_a_scale_of_a_few_kilometres_stands_below_a_close_view() -> None:
    assert re.search(r">(5|10) km<", draw_map(points(("release", 45.9, -64.4)), NO_LINKS))


def test_of_very_many_places_it_says_how_many_are_not_drawn() -> None:
    many = points(*[("release", 45 + place / 1000, -64.4 + place / 900) for place in range(1700)])
    text = draw_map(many, NO_LINKS)
    assert "200 further places not drawn" in text and text.count("<circle") == 1500 + 1


@pytest.fixture
def ledger() -> sqlite3.Connection:
    made = sqlite3.connect(":memory:")
    made.execute("CREATE TABLE rows (key TEXT, state TEXT, is_rounded TEXT)")
    made.execute("CREATE TABLE records (key TEXT, kind TEXT, tag TEXT, latitude REAL, longitude REAL)")
    lines = [
        ("a", "clear", "", "release", "SM0001", 45.8987, -64.3684),
        ("b", "clear", "yes", "release", "SM0002", 45.8987, -64.3684),
        ("c", "held", "", "release", "SM0003", 0.0, 0.0),
        ("d", "clear", "", "release", "SM0004", None, None),
        ("e", "clear", "", "find", "SM0002", 19.6123, -100.2853),
        ("f", "clear", "", "lost", "SM0005", 45.0, -64.0),
        ("g", "clear", "", "release", "SM0006", 95.0, -64.0),
    ]
    for key, state, rounded, kind, tag, north, east in lines:
        made.execute("INSERT INTO rows VALUES (?, ?, ?)", (key, state, rounded))
        made.execute("INSERT INTO records VALUES (?, ?, ?, ?, ?)", (key, kind, tag, north, east))
    return made


def test_only_clear_records_with_a_point_are_shown_protected_ones_rounded(ledger: sqlite3.Connection) -> None:
    shown = points_on_map(ledger, 0.01)
    assert shown["points"].to_dict("list") == {
        "kind": ["release", "release", "find"],
        "latitude": [45.8987, 45.9, 19.6123],
        "longitude": [-64.3684, -64.37, -100.2853],
        "is_rounded": [False, True, False],
    }
    assert shown["links"].to_numpy().tolist() == [[45.9, -64.37, 19.6123, -100.2853]]


def test_an_empty_ledger_has_no_points() -> None:
    made = sqlite3.connect(":memory:")
    made.execute("CREATE TABLE rows (key TEXT, state TEXT, is_rounded TEXT)")
    made.execute("CREATE TABLE records (key TEXT, kind TEXT, tag TEXT, latitude REAL, longitude REAL)")
    assert draw_map(**points_on_map(made, 0.01)) == ""
