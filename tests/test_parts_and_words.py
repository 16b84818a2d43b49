"""Values put together from parts, nearest words, sentences about a run: what doctests do not show."""

from __future__ import annotations

import datetime
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pipeline.figures import Figures
from pipeline.files.schemas import fields, lists
from pipeline.settings import Settings, read_settings
from pipeline.values import day, tag_code
from pipeline.values.lists import Field
from pipeline.values.nearest import nearest
from pipeline.values.parts import code_of_parts, day_of_parts, grid_of_parts
from pipeline.values.readers import cell_reader, plain_cells
from pipeline.values.ref import ref_of
from pipeline.values.tag_code import as_spreadsheet_would, look_alikes
from pipeline.values.wording import conserved_tags, last_line, people_in_words, questions_in_words, spoken

DAYS = [
    ("numbers", ("3", "9", "2026"), "2026-09-03"),
    ("a day over 12", ("25", "9", "2026"), "2026-09-25"),
    ("blanks around", (" 3 ", "09", " 2026 "), "2026-09-03"),
    ("two figures of a year", ("3", "9", "26"), "3 IX 26"),
    ("two figures of a year and no day", ("", "9", "26"), "0 IX 26"),
    ("a month in words", ("3", "septembre", "2026"), "3 septembre 2026"),
    ("a day that is no number", ("3rd", "9", "2026"), "3rd IX 2026"),
    ("a weekday beside the day", ("Thu 3", "9", "2026"), "Thu 3 IX 2026"),
    ("two days and a month in figures", ("3-5", "9", "2026"), "3-5 IX 2026"),
    ("two days", ("3-5", "Sept", "2026"), "3-5 Sept 2026"),
    ("no year", ("3", "9", ""), "3 IX"),
    ("a month in words and no year", ("3", "Sept", ""), "3 Sept"),
    ("only a year", ("", "", "2026"), "2026"),
    ("a month out of the calendar", ("3", "13", "2026"), "3 | 13 | 2026"),
    ("a month of nought", ("0", "0", "2026"), "2026-00-00"),
]


@pytest.mark.parametrize(("parts", "text"), [case[1:] for case in DAYS], ids=[case[0] for case in DAYS])
def test_a_day_is_put_together_as_it_was_meant(parts: tuple[str, str, str], text: str) -> None:
    assert day_of_parts(*parts) == text


OF_OUR_TIME = st.dates(datetime.date(1900, 1, 1), datetime.date(2100, 1, 1))  # a year further off is asked about


@given(OF_OUR_TIME, st.booleans())
def test_a_day_in_three_columns_is_read_as_that_day(date: Any, has_zeros: bool) -> None:
    year = f"{date.year:04d}"
    parts = (f"{date.day:02d}", f"{date.month:02d}") if has_zeros else (str(date.day), str(date.month))
    reading = day.read(day_of_parts(*parts, year), season_year=date.year)
    assert reading.value == f"{year}-{date.month:02d}-{date.day:02d}" and not reading.doubt
    reading = day.read(day_of_parts(*parts, year[2:]), season_year=date.year)
    assert reading.value == f"{year}-{date.month:02d}-{date.day:02d}" and not reading.doubt


@given(*[st.text(max_size=6) | st.integers(0, 40).map(str)] * 3)
def test_any_parts_are_put_together(first: str, second: str, third: str) -> None:
    day.read(day_of_parts(first, second, third))


def test_codes_and_grids_need_all_that_makes_them() -> None:
    assert code_of_parts("", "0012") == "0012"
    assert code_of_parts("SM", " ") == ""
    assert grid_of_parts("", "400000", "5090000") == "400000 5090000"
    assert grid_of_parts("20T", "400000", " ") == grid_of_parts("20T", "", "5090000") == ""


SEXES = {"female": "female", "male": "male", "f": "female", "femelle": "female"}
NEAREST = [
    ("a letter left out", "femal", "female"),
    ("a letter too many", "malee", "male"),
    ("near to two spellings of one value", "femele", "female"),
    ("as near to two values", "xmale", "male"),
    ("a single letter", "m", ""),
    ("nothing", "", ""),
    ("far from all", "zigzag", ""),
]


@pytest.mark.parametrize(("word", "value"), [case[1:] for case in NEAREST], ids=[case[0] for case in NEAREST])
def test_the_nearest_word_is_given_where_one_is_clearly_nearest(word: str, value: str) -> None:
    assert nearest(word, SEXES) == value


def test_of_two_values_as_near_none_is_given() -> None:
    assert nearest("marsg", {"marsh": "marsh", "marst": "marst"}) == ""


READ = [
    ("a tag", "tagCode", "sm 0042", "SM0042"),
    ("a time", "eventTime", "2:05 pm", "14:05"),
    ("a sex", "sex", "Femelle", "female"),
    ("a species", "scientificName", "Monarch", "Danaus plexippus"),
    ("a country", "countryCode", "Canada", "CA"),
    ("a country's code", "countryCode", "CA", "CA"),
    ("a province", "stateProvince", "Nouveau-Brunswick", "New Brunswick"),
    ("a count", "individualCount", "3", "3"),
    ("an elevation", "minimumElevationInMeters", "12 m", "12"),
    ("a free text", "locality", "  Salt Pan Marsh ", "Salt Pan Marsh"),
]
BY_NAME = {field.name: field for field in fields()}


@pytest.mark.parametrize(("field", "text", "value"), [case[1:] for case in READ], ids=[case[0] for case in READ])
def test_every_kind_of_field_has_its_reader(field: str, text: str, value: str) -> None:
    assert cell_reader(BY_NAME[field], lists(), Settings())(text, "t", "").value == value


PLAIN = [
    ("a tag", Field("tagCode", "tag_code", "", "yes"), "", "(?:[A-Z]{2}[0-9]{4}|[0-9][A-Z][0-9]{4})"),
    ("a checked tag", Field("tagCode", "tag_code", "", "yes"), '[tags]\ncheck_character = "iso7064-mod37-36"\n', ""),
    (
        "a tag with a rule of its own",
        Field("tagCode", "tag_code", "", "yes"),
        '[tags]\npattern = "(?i)sm[0-9]{4}"\n',
        "",
    ),
    ("a longitude read as west", Field("x", "longitude", "", "no"), '[region]\nunsigned_longitude = "west"\n', ""),
    ("a text", Field("locality", "text", "", "no"), "", ""),
]


@pytest.mark.parametrize(("field", "settings", "plain"), [case[1:] for case in PLAIN], ids=[case[0] for case in PLAIN])
def test_only_what_needs_no_reading_is_taken_as_plain(field: Field, settings: str, plain: str) -> None:
    assert plain_cells(field, read_settings(settings) if settings else Settings()) == plain


def test_texts_too_long_or_too_short_for_a_day_are_none() -> None:
    assert day.read("3/9/2026 " + "and so on " * 10).doubt == "not-a-day"
    assert day.read("3 Sept 6").doubt == "not-a-day", "a year has at least two figures"


def test_a_dash_in_a_checked_code_has_no_check_character() -> None:
    reading = tag_code.read("A-1M", "t", "[A-Z]-[0-9]", "iso7064-mod37-36")
    assert (reading.value, reading.doubt) == ("A-1M", "check-character")


def test_a_long_code_is_not_told_from_its_look_alikes() -> None:
    assert look_alikes("0" * 11) == set()
    assert len(look_alikes("0" * 3)) == 3**3 - 1  # each 0 is 0, O or Q


# A spreadsheet keeps 15 figures of a number (common practice) and shows a long one as a power of ten.
@pytest.mark.parametrize(
    ("code", "cells"),
    [
        ("0000000123456789012", {("n", "123456789012")}),
        ("1234567890123456", {("n", "1234567890123450"), ("t", "1.23E+15"), ("t", "1.23457E+15")}),
    ],
    ids=["only zeros lost", "figures lost"],
)
def test_a_code_of_many_figures_loses_the_last(code: str, cells: set[tuple[str, str]]) -> None:
    assert as_spreadsheet_would(code) == cells


FIGURES = Figures(
    rows={"clear": 3}, rows_of_run={"clear": 3}, left_out={}, tags={}, never_allotted=0, files={}, finds={},
    questions=0, people_asked=0, coordinator_questions=0, batch={}, refusals=[],
)  # fmt: skip

LAST_LINES = [
    ("nothing to ask", {}, "Nothing to ask"),
    ("nothing read", {"rows": {}}, "No row was read yet"),
    ("one question", {"questions": 1, "people_asked": 1}, "1 question waits for 1 person: write to them next"),
    ("more", {"questions": 12, "people_asked": 6}, "12 questions wait for 6 people: write to them next"),
    (
        "and the coordinator's own",
        {"questions": 2, "people_asked": 1, "coordinator_questions": 3},
        "2 questions wait for 1 person",
    ),
    ("only the coordinator's own", {"coordinator_questions": 3}, "3 questions wait for you"),
    ("a single one of the coordinator's", {"coordinator_questions": 1}, "1 question waits for you"),
    ("the gate refused", {"questions": 2, "people_asked": 1, "refusals": ["no id"]}, "The gate kept the batch"),
]


@pytest.mark.parametrize(("changed", "begins"), [case[1:] for case in LAST_LINES], ids=[case[0] for case in LAST_LINES])
def test_the_last_line_says_what_it_means(changed: dict[str, Any], begins: str) -> None:
    assert last_line(replace(FIGURES, **changed)).startswith(begins)


def test_the_coordinators_own_questions_are_told_beside_the_others() -> None:
    said = last_line(replace(FIGURES, questions=2, people_asked=1, coordinator_questions=3))
    assert "3 more are for you" in said and "3 more" not in last_line(replace(FIGURES, questions=2, people_asked=1))


def test_numbers_stand_beside_the_right_word() -> None:
    assert [questions_in_words(count) for count in (0, 1, 2)] == ["0 questions", "1 question", "2 questions"]
    assert [people_in_words(count) for count in (0, 1, 2)] == ["0 people", "1 person", "2 people"]
    assert conserved_tags({"released": 1, "kept": 2}) == "3 allotted = 1 released + 2 kept for next year"


def test_a_message_without_other_words_is_spoken_as_it_is() -> None:
    assert spoken("Row {row}.", "", {"row": "2", "suggestion": ""}) == "Row 2."
    assert spoken("Row {row}.", "No row.", {"row": "2"}) == "No row."


@given(st.sets(st.text(max_size=10), max_size=20))
def test_things_have_keys_that_differ(identities: set[str]) -> None:
    assert len({ref_of(identity) for identity in identities}) == len(identities)
