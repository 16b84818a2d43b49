"""Finds are matched to releases by the exact tag; distances are held against published geodesics."""

from __future__ import annotations

from typing import Any

import pandas as pd
import pytest
from geographiclib.geodesic import Geodesic
from hypothesis import given, settings
from hypothesis import strategies as st
from portal_rows import A_FIND, FIND, POINT, RELEASE, rows_of, settings_of

from pipeline.stages.match_finds import COLUMNS, match_finds


def pair(release: dict[str, Any], find: dict[str, Any]) -> dict[str, str]:
    matched = match_finds(rows_of({**POINT, **release}, {**A_FIND, **find}), settings_of())
    assert len(matched) == 1
    return {str(key): str(value) for key, value in matched.iloc[0].items()}


def at(latitude: float, longitude: float) -> dict[str, str]:
    return {"decimalLatitude": f"{latitude:.5f}", "decimalLongitude": f"{longitude:.5f}"}


# Karney 2013, test set for WGS84 as published with GeographicLib: metres, azimuth at the start.
PUBLISHED = [
    (35.60777, -139.44815, -11.17491, -69.95921, 8935244.5604818305, 111.098748429560326),
    (-41.22777, 122.32875, -7.57291, 130.37946, 3812686.035106021, 14.285113402275739),
    (-19.79938, -174.47484, -11.99349, -154.35109, 2319004.8601169389, None),
]


@pytest.mark.parametrize("case", PUBLISHED, ids=["long", "south", "across 180 degrees"])
def test_published_distances_and_bearings_are_met(case: tuple[float, ...]) -> None:
    start_north, start_east, end_north, end_east, metres, azimuth = case
    matched = pair(at(start_north, start_east), at(end_north, end_east))
    assert float(matched["km"]) == pytest.approx(metres / 1000, abs=0.0006)
    if azimuth is not None:
        assert float(matched["bearing_degrees"]) == pytest.approx(azimuth, abs=0.06)


@given(*(st.floats(-80, 80), st.floats(-179, 179)) * 2)
@settings(max_examples=40, deadline=None)
def test_any_distance_is_that_of_geographiclib(north: float, east: float, to_north: float, to_east: float) -> None:
    release, find = at(north, east), at(to_north, to_east)
    oracle = Geodesic.WGS84.Inverse(*(float(text) for place in (release, find) for text in place.values()))
    matched = pair(release, find)
    assert float(matched["km"]) == pytest.approx(oracle["s12"] / 1000, abs=0.0006)
    if matched["bearing_degrees"] and oracle["s12"] < 19_900_000:
        turned = (float(matched["bearing_degrees"]) - oracle["azi1"]) % 360
        assert min(turned, 360 - turned) <= 0.06


def test_the_columns_are_those_of_the_contract_and_both_sides_are_named() -> None:
    matched = pair({}, {})
    assert tuple(matched) == COLUMNS
    assert COLUMNS[:11] == (
        "find_occurrence_id",
        "release_occurrence_id",
        "tag",
        "km",
        "bearing_degrees",
        "days",
        "days_min",
        "days_max",
        "km_per_day",
        "kind",
        "state",
    )
    assert matched["find_occurrence_id"] == FIND
    assert matched["release_occurrence_id"] == RELEASE
    assert (matched["release_file"], matched["release_sheet"], matched["release_row"]) == (
        "ps1/tags.xlsx",
        "Tags",
        "2",
    )
    assert (matched["find_file"], matched["find_row"]) == ("finds.csv", "3")


def test_days_and_speed_are_told_where_both_days_are_known() -> None:
    matched = pair({"eventDate": "2026-09-03"}, {"eventDate": "2026-11-20"})
    assert (matched["days"], matched["days_min"], matched["days_max"]) == ("78", "78", "78")
    assert float(matched["km_per_day"]) == pytest.approx(float(matched["km"]) / 78, abs=0.01)
    assert matched["kind"] == "far"


DAYS = [
    ("a month", {"first_day": "2026-11-01", "last_day": "2026-11-30"}, ("", "59", "88", "")),
    ("the same day", {"first_day": "2026-09-03", "last_day": "2026-09-03"}, ("0", "0", "0", "")),
    ("no day", {"first_day": None, "last_day": None}, ("", "", "", "")),
]


@pytest.mark.parametrize(("find", "told"), [case[1:] for case in DAYS], ids=[case[0] for case in DAYS])
def test_days_are_never_more_precise_than_written(find: dict[str, Any], told: tuple[str, ...]) -> None:
    days = {name: pd.Timestamp(day) if day else pd.NaT for name, day in find.items()}
    matched = pair({"eventDate": "2026-09-03"}, {"eventDate": "2026-11", **days})
    assert (matched["days"], matched["days_min"], matched["days_max"], matched["km_per_day"]) == told


def test_a_find_within_the_combined_uncertainty_has_no_bearing_and_is_near() -> None:
    # 0.0005 degree north is 56 m; two points to 4 decimals and 30 m of receiver each are known to 44 m each.
    matched = pair({"decimalLatitude": "45.5012"}, {**POINT, "decimalLatitude": "45.5017"})
    assert matched["km"] == "0.056"
    assert matched["bearing_degrees"] == ""
    assert matched["kind"] == "near"
    farther = pair({"decimalLatitude": "45.5012"}, {**POINT, "decimalLatitude": "45.5032"})
    assert farther["bearing_degrees"] == "0.0"


@pytest.mark.parametrize(("latitude", "kind"), [("45.6811", "near"), ("45.6813", "far")])
def test_near_and_far_are_parted_by_the_setting(latitude: str, kind: str) -> None:
    # A degree of latitude at 45.6 N is 111,137 m (meridian arc on WGS84): 20 km are 0.17996 degree.
    assert pair({"decimalLatitude": "45.5012"}, {**POINT, "decimalLatitude": latitude})["kind"] == kind


@pytest.mark.parametrize("code", ["SM0043", "SMOO42", ""], ids=["another tag", "a look-alike", "no code"])
def test_a_find_of_another_code_stands_alone(code: str) -> None:
    matched = pair({}, {"tagCode": code})
    assert matched["find_occurrence_id"] == FIND
    assert {
        matched[name] for name in ("release_occurrence_id", "km", "bearing_degrees", "days", "kind", "release_row")
    } == {""}


def test_a_find_without_a_point_has_days_but_no_distance() -> None:
    matched = pair({}, {"decimalLatitude": "", "decimalLongitude": "", "municipality": "Angangueo"})
    assert (matched["km"], matched["bearing_degrees"], matched["kind"], matched["km_per_day"]) == (
        "",
        "",
        "",
        "",
    )
    assert matched["days"] == "78"


def test_a_clear_release_is_taken_before_a_held_one_with_the_same_tag() -> None:
    rows = rows_of(
        {**POINT, "state": "held", "occurrence_id": ""},
        POINT,
        {**A_FIND, "state": "held", "occurrence_id": ""},
    )
    matched = match_finds(rows, settings_of())
    assert matched["release_occurrence_id"].tolist() == [RELEASE]
    assert matched[["find_occurrence_id", "state"]].to_numpy().tolist() == [["", "held"]]


def test_a_season_without_finds_gives_an_empty_table_with_its_columns() -> None:
    assert tuple(match_finds(rows_of(POINT), settings_of()).columns) == COLUMNS
    assert match_finds(rows_of(POINT).iloc[:0], settings_of()).empty
