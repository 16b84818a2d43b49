"""Finds are matched to releases by the exact tag; distances are held against published geodesics."""

from __future__ import annotations

from typing import Any

import pandas as pd
import pytest
from geographiclib.geodesic import Geodesic
from hypothesis import given, settings
from hypothesis import strategies as st
from portal_rows import A_FIND, FIND, POINT, RELEASE, rows_of, settings_of

from pipeline.remembered import ELSEWHERE, nothing_elsewhere
from pipeline.stages.match_finds import COLUMNS, match_finds


def found_in(rows: pd.DataFrame, elsewhere: pd.DataFrame | None = None) -> pd.DataFrame:
    return match_finds(rows, nothing_elsewhere() if elsewhere is None else elsewhere, settings_of())


def pair(release: dict[str, Any], find: dict[str, Any]) -> dict[str, str]:
    matched = found_in(rows_of({**POINT, **release}, {**A_FIND, **find}))
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


def test_what_a_letter_to_the_finder_tells_stands_behind_the_columns_of_the_contract() -> None:
    matched = pair({"stateProvince": "New Brunswick", "eventDate": "2026-09-03"}, {"file_sha256": "cd"})
    assert COLUMNS[17:] == ("find_key", "find_sha256", "released_on", "released_in", "release_state")
    assert (matched["find_key"], matched["find_sha256"]) == ("00000000-0000-5000-8000-000000000002", "cd")
    assert (matched["released_on"], matched["released_in"], matched["release_state"]) == (
        "2026-09-03", "New Brunswick", "clear",
    )  # fmt: skip


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
    matched = found_in(rows)
    assert matched["release_occurrence_id"].tolist() == [RELEASE]
    assert matched[["find_occurrence_id", "state"]].to_numpy().tolist() == [["", "held"]]


def test_a_season_without_finds_gives_an_empty_table_with_its_columns() -> None:
    assert tuple(found_in(rows_of(POINT)).columns) == COLUMNS
    assert found_in(rows_of(POINT).iloc[:0]).empty


def elsewhere(*cases: dict[str, Any]) -> pd.DataFrame:
    """Records of the ledger that are not looked at, as it remembers them."""
    return rows_of(*({**POINT, **case} for case in cases))[list(ELSEWHERE)].astype({"row": "int64"})


OTHER = "urn:uuid:00000000-0000-5000-8000-000000000009"
ELSEWHERE_CASES = [
    ("a clear release", [{"occurrence_id": OTHER}], (OTHER, "clear", "2")),
    ("a held one, not published yet", [{"occurrence_id": "", "state": "held"}], ("", "held", "2")),
    ("one published in an earlier season", [{"occurrence_id": OTHER, "state": "past", "row": 0}], (OTHER, "past", "0")),
    (
        "a held one beside one of an earlier season",
        [{"occurrence_id": "", "state": "held"}, {"occurrence_id": OTHER, "state": "past", "row": 0}],
        (OTHER, "past", "0"),
    ),
    ("another find", [{"recordKind": "find", "occurrence_id": OTHER}], ("", "", "")),
    ("a release of another tag", [{"tagCode": "SM0043", "occurrence_id": OTHER}], ("", "", "")),
]


@pytest.mark.parametrize(
    ("others", "told"), [case[1:] for case in ELSEWHERE_CASES], ids=[case[0] for case in ELSEWHERE_CASES]
)
def test_a_find_is_matched_to_a_release_that_stands_elsewhere_in_the_ledger(
    others: list[dict[str, Any]], told: tuple[str, ...]
) -> None:
    matched = found_in(rows_of(A_FIND), elsewhere(*others))
    assert len(matched) == 1, "what stands elsewhere is no find of these rows"
    line = matched.iloc[0]
    assert (line["release_occurrence_id"], line["release_state"], line["release_row"]) == told
    here = pair({}, {})
    assert line["km"] == (here["km"] if told[1] else "") and line["days"] == (here["days"] if told[1] else "")


def test_a_clear_release_elsewhere_is_taken_before_a_held_one_here() -> None:
    rows = rows_of({**POINT, "state": "held", "occurrence_id": ""}, A_FIND)
    assert found_in(rows, elsewhere({"occurrence_id": OTHER}))["release_occurrence_id"].tolist() == [OTHER]


def test_of_two_clear_releases_the_one_among_the_rows_is_taken() -> None:
    found = found_in(rows_of(POINT, A_FIND), elsewhere({"occurrence_id": OTHER}))
    assert found["release_occurrence_id"].tolist() == [RELEASE]


def test_a_release_of_an_earlier_season_whose_radius_is_not_known_has_a_bearing() -> None:
    # 0.0005 degree north is 56 m: more than the 44 m to which the find alone is known.
    before = elsewhere({"state": "past", "occurrence_id": OTHER}).assign(metres=float("nan"))
    matched = found_in(rows_of({**A_FIND, **POINT, "decimalLatitude": "45.5017"}), before)
    assert matched[["km", "bearing_degrees"]].to_numpy().tolist() == [["0.056", "0.0"]]


RADII = [  # 0.0001 degree at 45.5 N is 11.1 m by 7.8 m, 13.6 m across; 30 m of the receiver are added
    ("as written", {}, 44),
    ("stated by the sender", {"coordinateUncertaintyInMeters": "12"}, 12),
    ("no point", {"decimalLatitude": "", "decimalLongitude": ""}, None),
]


@pytest.mark.parametrize(("case", "metres"), [case[1:] for case in RADII], ids=[case[0] for case in RADII])
def test_the_radius_round_a_point_is_that_of_its_precision_or_what_was_stated(
    case: dict[str, Any], metres: float | None
) -> None:
    (radius,) = rows_of({**POINT, **case})["metres"]
    assert (radius == metres) if metres else pd.isna(radius)
