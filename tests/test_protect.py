"""What stays in the house: homes, minors, finds' places, names, house numbers, postcodes."""

from __future__ import annotations

from typing import Any

import pandas as pd
import pytest
from portal_rows import A_FIND, NOTHING_SENSITIVE, POINT, people_of, rows_of, settings_of

from pipeline.stages.protect import privacy

ODA = {"person_id": "ps1", "name": "Oda Brisebois", "publish_name": "yes", "minor": "no"}
KIT = {"person_id": "ps2", "name": "Kit Farrow", "publish_name": "no", "minor": "no"}
PIP = {
    "person_id": "ps3",
    "name": "Pip Larkspur",
    "publish_name": "yes",
    "minor": "yes",
    "guardian_name": "Ro Larkspur",
}
PEOPLE = people_of(ODA, KIT, PIP)
MOST_USED = '[privacy]\nhome_unknown = "most-used-place"\n'


def said(*cases: dict[str, Any], settings: str = "", people: pd.DataFrame = PEOPLE) -> pd.DataFrame:
    rows = rows_of(*cases)
    return privacy(rows, people, settings_of(settings), rows, NOTHING_SENSITIVE)


NAMES = [
    ("the sender's own name", {"recordedBy": "Oda Brisebois"}, "Oda Brisebois"),
    ("written in capitals and without accents", {"recordedBy": "ODA  BRISEBOIS"}, "Oda Brisebois"),
    ("a blank stands for the sender", {"recordedBy": ""}, "Oda Brisebois"),
    ("a blank of a sender who said no", {"recordedBy": "", "person_id": "ps2"}, "participant"),
    ("a blank of a minor", {"recordedBy": "", "person_id": "ps3"}, "participant"),
    ("a blank of nobody known", {"recordedBy": "", "person_id": ""}, "participant"),
    ("no consent", {"recordedBy": "Kit Farrow"}, "participant"),
    ("a minor with consent", {"recordedBy": "Pip Larkspur"}, "participant"),
    ("a guardian", {"recordedBy": "Ro Larkspur"}, "participant"),
    ("a name that nobody knows", {"recordedBy": "Someone Else"}, "participant"),
    ("two names in one cell", {"recordedBy": "Oda Brisebois & Kit Farrow"}, "Oda Brisebois | participant"),
    (
        "the other way round, last name first",
        {"recordedBy": "Brisebois, Oda; Larkspur, Pip"},
        "Oda Brisebois | participant",
    ),
    ("three who said no", {"recordedBy": "Kit Farrow, Pip Larkspur et Someone Else"}, "participant"),
    ("half a name", {"recordedBy": "Oda"}, "participant"),
]


@pytest.mark.parametrize(("case", "published"), [each[1:] for each in NAMES], ids=[each[0] for each in NAMES])
def test_a_name_goes_out_only_with_its_bearers_consent(case: dict[str, Any], published: str) -> None:
    assert said(case)["recorded_by"].tolist() == [published]


def test_of_two_people_with_one_name_both_must_agree() -> None:
    namesake = {**ODA, "person_id": "ps9", "publish_name": "no"}
    assert said({"recordedBy": "Oda Brisebois"}, people=people_of(ODA, namesake))["recorded_by"].tolist() == [
        "participant"
    ]


def test_no_name_goes_out_where_the_settings_say_never() -> None:
    assert said({}, settings='[privacy]\npublish_names = "never"\n')["recorded_by"].tolist() == ["participant"]


ROUNDED = [
    ("at 499 m from a home", {**POINT, "km_from_home": 0.499}, "near a home"),
    ("at 500 m from a home", {**POINT, "km_from_home": 0.5}, "near a home"),
    ("at 501 m from a home", {**POINT, "km_from_home": 0.501}, ""),
    ("far from any home", POINT, ""),
    ("by or naming a minor", {**POINT, "recorded_by_is_minor": True}, "by or naming a minor"),
    (
        "a minor named in the remarks",
        {**POINT, "occurrenceRemarks": "Pip Larkspur held it"},
        "by or naming a minor",
    ),
    (
        "a minor named among others",
        {**POINT, "recordedBy": "Kit Farrow, Pip Larkspur"},
        "by or naming a minor",
    ),
    ("an adult named in the remarks", {**POINT, "occurrenceRemarks": "Kit Farrow held it"}, ""),
    ("the place of a find", A_FIND, "place of a find"),
    ("a find at a public site", {**A_FIND, "is_public_site": True}, ""),
    ("a find at home", {**A_FIND, "km_from_home": 0.1}, "place of a find"),
    ("rounded in an earlier batch", {**POINT, "was_rounded": True}, "rounded before"),
    (
        "home of a minor",
        {**POINT, "km_from_home": 0, "recorded_by_is_minor": True},
        "near a home | by or naming a minor",
    ),
]


@pytest.mark.parametrize(("case", "why"), [each[1:] for each in ROUNDED], ids=[each[0] for each in ROUNDED])
def test_a_place_is_rounded_for_a_reason(case: dict[str, Any], why: str) -> None:
    kept = said(case)
    assert kept["why_rounded"].tolist() == [why]
    assert kept["place_is_rounded"].tolist() == [why != ""]


def places(*latitudes: str, **more: str) -> list[dict[str, Any]]:
    return [{**POINT, "decimalLatitude": latitude, **more} for latitude in latitudes]


def test_the_place_used_most_is_taken_for_the_home_of_a_person_without_one() -> None:
    cases = places("45.5012", "45.6000", "45.6001", "45.6041", "45.6060")  # 0.0041 degree is 456 m, 0.006 is 667 m
    assert said(*cases, settings=MOST_USED)["place_is_rounded"].tolist() == [False, True, True, True, False]


def test_of_places_used_equally_often_the_first_seen_is_taken() -> None:
    cases = places("45.7000", "45.5012", "45.5012", "45.7000")
    assert said(*cases, settings=MOST_USED)["place_is_rounded"].tolist() == [True, False, False, True]


@pytest.mark.parametrize(
    ("settings", "people"),
    [
        ('[privacy]\nhome_unknown = "none"\n', PEOPLE),
        (MOST_USED, people_of({**ODA, "home_latitude": "46.1", "home_longitude": "-64.1"})),
    ],
    ids=["the settings look for none", "the home is on file"],
)
def test_no_place_is_taken_for_a_home(settings: str, people: pd.DataFrame) -> None:
    assert said(*places("45.5", "45.5"), settings=settings, people=people)["place_is_rounded"].tolist() == [
        False,
        False,
    ]


def test_the_whole_ledger_says_which_place_was_used_most() -> None:
    now, earlier = rows_of(*places("45.5012")), rows_of(*places("45.6", "45.6", "45.5012"))
    kept = privacy(now, PEOPLE, settings_of(MOST_USED), earlier, NOTHING_SENSITIVE)
    assert kept["place_is_rounded"].tolist() == [False]


def test_another_persons_releases_and_finds_do_not_make_a_home() -> None:
    cases = [
        *places("45.5012"),
        *places("45.6", "45.6", person_id="ps2"),
        {**A_FIND, **POINT, "decimalLatitude": "45.5500"},
    ]
    kept = said(*cases, *places("45.6"), settings=MOST_USED)
    assert kept["why_rounded"].tolist()[0] == "near the place used most"
    assert kept["why_rounded"].tolist()[-1] == ""


def test_a_public_site_is_nobodys_home() -> None:
    cases = [{**case, "is_public_site": True} for case in places("45.5012", "45.5012")]
    assert said(*cases, *places("45.6"), settings=MOST_USED)["place_is_rounded"].tolist() == [
        False,
        False,
        True,
    ]


LOCALITIES = [
    ("Salt Pan Marsh", ""),
    ("Sentier du Marais", ""),
    ("Highway 104, exit 3", ""),
    ("Route 132 est", ""),
    ("3 km north of the light", ""),
    ("Trail 4", ""),
    ("100 m from shore", ""),
    ("Saint Kit Bay", ""),
    ("Farrow Lane", ""),
    ("12 Elm Street", "a house number"),
    ("12, rue Principale", "a house number"),
    ("calle Hidalgo 45", "a house number"),
    ("near 123B Elm", "a house number"),
    ("n° 7 chemin du Lac", "a house number"),
    ("Sackville E4L 1A1", "a postcode"),
    ("61411 Angangueo", "a postcode"),
    ("e4l1a1", "a postcode"),
    ("Kit Farrow's field", "a name"),
    ("chez KIT FARROW", "a name"),
    ("Kit's yard", "a name"),
    ("the Farrow farm", "a name"),
    ("jardin de Ro Larkspur", "a name"),
    ("ferme Larkspur", "a name"),
    ("call 506-555-0142", "an address or a telephone number"),
    ("ask me@example.org", "an address or a telephone number"),
]


@pytest.mark.parametrize(("locality", "why"), LOCALITIES, ids=[each[0] for each in LOCALITIES])
def test_a_locality_goes_unless_it_tells_who_lives_there(locality: str, why: str) -> None:
    kept = said({"locality": locality})
    assert kept["why_locality_stays"].tolist() == [why]
    assert kept["locality_stays"].tolist() == [why != ""]


def test_a_locality_stays_for_what_was_written_before_it_was_changed() -> None:
    assert said({"locality": "the marsh", "locality_written": "the marsh, 12 Elm"})["locality_stays"].tolist() == [True]


def test_a_locality_stays_where_it_names_somebody_of_the_same_sheet_only() -> None:
    kept = said(
        {"locality": "behind Wren Tolliver"},
        {"locality": "x", "recordedBy": "Wren Tolliver"},
        {"locality": "behind Wren Tolliver", "sheet": "Other"},
    )
    assert kept["why_locality_stays"].tolist() == ["a name of the same sheet", "", ""]


@pytest.mark.parametrize("column", ["municipality", "county", "stateProvince", "behavior"])
@pytest.mark.parametrize(
    ("text", "stays"),
    [
        ("Sackville", False),
        ("Kit Farrow", True),
        ("Sackville E4L 1A1", True),
        ("506 555 0142", True),
        ("me@x.org", True),
    ],
)
def test_other_words_stay_where_they_hold_a_name_or_an_address(column: str, text: str, stays: bool) -> None:
    assert said({column: text})[f"{column}_stays"].tolist() == [stays]


def test_no_rows_and_no_people_give_an_empty_answer() -> None:
    rows = rows_of(POINT)
    assert privacy(rows.iloc[:0], people_of(), settings_of(MOST_USED), rows.iloc[:0], NOTHING_SENSITIVE).empty
