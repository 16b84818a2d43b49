"""Answers about a whole table: what a heading means, what a missing column would have said."""

from __future__ import annotations

import pytest

from pipeline.model import Heading, Sheet, Table
from pipeline.stages.answered_tables import with_answers

SHEET = Sheet("p1/tags.xlsx", "5a", "Tags", (("Tag", "Dayt", "Date 2", "Town"),), ("tttt",))
HERE = ("5a", "Tags")
TAG, TOWN = Heading(0, "Tag", "tagCode"), Heading(3, "Town", "municipality")


def table(*headings: Heading, sheet: Sheet = SHEET, **given: str) -> Table:
    return Table(sheet, 1, 1, headings, 2, 9, {9: "total"}, {field: (text, 1, 0) for field, text in given.items()})


def meanings(answered: Table) -> dict[str, tuple[str, str]]:
    """By heading as written: field and guess."""
    return {heading.written: (heading.field, heading.guess) for heading in answered.headings}


def test_a_heading_means_what_was_answered() -> None:
    guessed = table(TAG, Heading(1, "Dayt", "", "eventDate", "d/m/y"), TOWN)
    (answered,) = with_answers([guessed], {HERE: {"Dayt": "eventDate"}}, {})
    assert meanings(answered) == {"Tag": ("tagCode", ""), "Dayt": ("eventDate", ""), "Town": ("municipality", "")}
    assert answered.headings[1].column == 1 and answered.headings[1].hint == "d/m/y"
    assert (answered.left_out, answered.first_row, answered.sheet) == ({9: "total"}, 2, SHEET)


def test_a_heading_that_was_taken_for_something_else_means_what_was_answered() -> None:
    (answered,) = with_answers([table(TAG, TOWN)], {HERE: {"Town": "county"}}, {})
    assert meanings(answered)["Town"] == ("county", "")


def test_of_two_columns_for_one_field_the_answered_one_is_read_and_the_other_is_not() -> None:
    two = table(TAG, Heading(1, "Date", "eventDate"), Heading(2, "Date 2", "", "eventDate"))
    (answered,) = with_answers([two], {HERE: {"Date 2": "eventDate"}}, {})
    assert meanings(answered) == {"Tag": ("tagCode", ""), "Date": ("", ""), "Date 2": ("eventDate", "")}


def test_of_two_columns_the_first_may_be_confirmed_as_the_one_to_read() -> None:
    two = table(TAG, Heading(1, "Date", "eventDate"), Heading(2, "Date 2", "", "eventDate"))
    (answered,) = with_answers([two], {HERE: {"Date": "eventDate"}}, {})
    assert meanings(answered)["Date"] == ("eventDate", "")
    assert meanings(answered)["Date 2"][0] == ""


def test_a_column_that_the_table_lacks_is_said_once_for_all_rows() -> None:
    (answered,) = with_answers([table(TAG, TOWN)], {}, {HERE: {"eventDate": "14 September 2026"}})
    assert answered.given_once == {"eventDate": ("14 September 2026", 0, -1)}
    assert answered.headings == (TAG, TOWN)


def test_what_was_answered_stands_before_what_is_said_above_the_table() -> None:
    told = table(TAG, eventDate="2025", municipality="Truro")
    (answered,) = with_answers([told], {}, {HERE: {"eventDate": "2026-09-14"}})
    assert answered.given_once == {"eventDate": ("2026-09-14", 0, -1), "municipality": ("Truro", 1, 0)}


def test_headings_and_missing_columns_may_both_be_answered() -> None:
    (answered,) = with_answers(
        [table(Heading(0, "Nr", "", "tagCode"), TOWN)], {HERE: {"Nr": "tagCode"}}, {HERE: {"eventDate": "2026-09-14"}}
    )
    assert meanings(answered)["Nr"] == ("tagCode", "") and set(answered.given_once) == {"eventDate"}


ELSEWHERE = [
    ("another file", ("5b", "Tags")),
    ("another sheet of it", ("5a", "Late")),
    ("no sheet of it", ("5a", "")),
]


@pytest.mark.parametrize("place", [case[1] for case in ELSEWHERE], ids=[case[0] for case in ELSEWHERE])
def test_an_answer_is_about_its_own_sheet(place: tuple[str, str]) -> None:
    untouched = table(TAG, Heading(1, "Dayt", "", "eventDate"))
    answered = with_answers([untouched], {place: {"Dayt": "eventDate"}}, {place: {"municipality": "Truro"}})
    assert answered == (untouched,)


def test_every_table_of_an_answered_sheet_is_told_and_their_order_stays() -> None:
    late = Sheet("p1/tags.xlsx", "5a", "Late", (), ())
    tables = [table(TAG, Heading(1, "Dayt")), table(TAG, Heading(1, "Dayt")), table(TAG, sheet=late)]
    answered = with_answers(tables, {HERE: {"Dayt": "eventDate"}}, {("5a", "Late"): {"eventDate": "2026-09-14"}})
    assert [len(one.given_once) for one in answered] == [0, 0, 1]
    assert [meanings(one).get("Dayt") for one in answered] == [("eventDate", ""), ("eventDate", ""), None]


def test_an_answer_about_a_heading_that_the_sheet_has_not_changes_nothing() -> None:
    untouched = table(TAG, TOWN)
    assert with_answers([untouched], {HERE: {"Dayt": "eventDate"}}, {}) == (untouched,)


def test_no_tables_take_no_answers() -> None:
    assert with_answers([], {HERE: {"Dayt": "eventDate"}}, {}) == ()
