"""A line a file and a line a heading, as the rules about files and headings see them."""

from __future__ import annotations

from typing import Any

import pandas as pd
import pytest
from example_tables import FILES, HEADINGS

from pipeline.files.schemas import fields
from pipeline.model import FileRead, Heading, Sheet, Table
from pipeline.stages.describe import describe_files, describe_headings

EMPTY_SHEET = Sheet("a.xlsx", "ab", "Empty", ((), ("", " ")), ("", "--"))
FULL_SHEET = Sheet("a.xlsx", "ab", "Tags", (("Tag",), ("SM0001",)), ("t", "t"))


def table(*headings: tuple[str, str, str], sheet: Sheet = FULL_SHEET, **given: str) -> Table:
    """A table with (written, field, guess) of each column; `given` is said once above it."""
    columns = tuple(Heading(at, *each) for at, each in enumerate(headings))
    return Table(sheet, 1, 4, columns, 5, 9, {}, {field: (text, 1, 0) for field, text in given.items()})


def test_a_file_is_described_by_its_tables_sheets_and_rows() -> None:
    read = FileRead("a.xlsx", "ab", (EMPTY_SHEET, FULL_SHEET))
    (line,) = describe_files([read], [table(), table()], {"ab": 7}).to_dict("records")
    assert (line["tables"], line["sheets_with_data"], line["sheet_names"], line["rows_read"]) == (2, 1, "Tags", 7)
    assert (line["refusal"], line["copy_of"], line["is_sender_known"]) == ("", "", False)


def test_the_names_of_sheets_are_told_once_in_their_order() -> None:
    other = Sheet("a.xlsx", "ab", "Late", (("Tag",),), ("t",))
    read = FileRead("a.xlsx", "ab", (FULL_SHEET, other))
    files = describe_files([read], [table(), table(sheet=other), table()], {})
    assert files["sheet_names"].tolist() == ["Tags, Late"]
    assert files["rows_read"].tolist() == [0]


def test_a_refused_file_is_described_by_what_it_is() -> None:
    read = FileRead("photo.xlsx", "cd", refusal="file_not_opened", what="a picture")
    files = describe_files([read, FileRead("a.xlsx", "ab", (FULL_SHEET,))], [table()], {"ab": 1})
    assert files["refusal"].tolist() == ["file_not_opened", ""]
    assert files["what"].tolist() == ["a picture", ""]
    assert files["tables"].tolist() == [0, 1]


def test_the_tables_of_a_file_are_told_by_its_bytes_wherever_it_lies_now() -> None:
    moved = FileRead("p1/late/a.xlsx", "ab", (FULL_SHEET,))
    assert describe_files([moved], [table()], {"ab": 7})[["tables", "rows_read"]].to_numpy().tolist() == [[1, 7]]


def test_a_copy_whose_cells_are_not_read_again_has_no_tables_and_rows_of_its_own() -> None:
    files = describe_files([FileRead("a.xlsx", "ab", (FULL_SHEET,)), FileRead("b.xlsx", "ab")], [table()], {"ab": 7})
    told = files[["file", "tables", "sheet_names", "rows_read"]].to_numpy().tolist()
    assert told == [["a.xlsx", 1, "Tags", 7], ["b.xlsx", 0, "", 0]]


def test_a_line_has_the_columns_that_rules_about_it_may_read() -> None:
    assert set(describe_files([], [], {})) == set(FILES)
    assert pd.api.types.is_datetime64_dtype(describe_files([], [], {})["received"])
    assert set(describe_headings([], fields(), True)) == set(HEADINGS)


TAG, DAY, TOWN = ("Tag", "tagCode", ""), ("Date", "eventDate", ""), ("Town", "municipality", "")


def described(*headings: tuple[str, str, str], has_default: bool = True, **given: str) -> list[dict[str, Any]]:
    return describe_headings([table(*headings, **given)], fields(), has_default).to_dict("records")


def missing(lines: list[dict[str, Any]]) -> list[str]:
    return [line["field"] for line in lines if line["is_missing"]]


MISSING = [
    ("nothing", [TAG, DAY, TOWN], []),
    ("the day", [TAG, TOWN], ["eventDate"]),
    ("the tag", [DAY, TOWN], ["tagCode"]),
    ("every place", [TAG, DAY], ["locality"]),
    ("all", [("Sex", "sex", "")], ["eventDate", "tagCode", "locality"]),
    ("nothing, the day in parts", [TAG, ("Month", "month", ""), TOWN], []),
    ("the day, of which only the year is told", [TAG, ("Year", "year", ""), TOWN], ["eventDate"]),
    ("nothing, the code in parts", [("No.", "tagDigits", ""), DAY, TOWN], []),
    ("nothing, both coordinates in one", [TAG, DAY, ("Point", "coordinates", "")], []),
    ("nothing, a grid", [TAG, DAY, ("Easting", "easting", "")], []),
    ("a place, though a province is told", [TAG, DAY, ("Province", "stateProvince", "")], ["locality"]),
]


@pytest.mark.parametrize(("headings", "lost"), [case[1:] for case in MISSING], ids=[case[0] for case in MISSING])
def test_a_needed_field_without_a_column_has_a_line_of_its_own(
    headings: list[tuple[str, str, str]], lost: list[str]
) -> None:
    lines = described(*headings)
    assert missing(lines) == lost
    assert {line["column"] for line in lines if line["is_missing"]} <= {-1}
    assert {line["some_needed_is_missing"] for line in lines} == {bool(lost)}


def test_what_is_said_once_above_the_table_needs_no_column() -> None:
    assert missing(described(TAG, municipality="Truro", eventDate="3 Sept 2026")) == []


def test_the_species_is_needed_only_where_the_settings_name_none() -> None:
    assert missing(described(TAG, DAY, TOWN, has_default=False)) == ["scientificName"]
    assert missing(described(TAG, DAY, TOWN, ("Species", "scientificName", ""), has_default=False)) == []


GUESSES = [
    ("a needed field", ("Dayt", "", "eventDate"), True),
    ("a field that is not needed", ("Sexx", "", "sex"), False),
    ("a place, where the table has one", ("Twon", "", "municipality"), False),
    ("nothing", ("Zqx", "", ""), False),
]


@pytest.mark.parametrize(("heading", "is_needed"), [case[1:] for case in GUESSES], ids=[case[0] for case in GUESSES])
def test_an_unknown_heading_is_needed_if_its_guess_is(heading: tuple[str, str, str], is_needed: bool) -> None:
    line = described(TAG, TOWN, heading)[2]
    assert (line["heading"], line["field"], line["guess"]) == heading
    assert line["is_needed"] is is_needed


def test_a_guessed_place_is_needed_where_the_table_has_none() -> None:
    assert described(TAG, DAY, ("Twon", "", "municipality"))[2]["is_needed"] is True


def test_a_second_heading_for_a_field_names_the_first() -> None:
    lines = described(TAG, DAY, TOWN, ("Date 2", "", "eventDate"))
    assert [line["also"] for line in lines] == ["", "", "", "Date"]


def test_headings_have_the_number_of_their_table_and_its_heading_row() -> None:
    lines = describe_headings([table(TAG, DAY, TOWN), table(TAG)], fields(), True)
    assert lines["table_id"].tolist() == [0, 0, 0, 1, 1, 1]
    assert set(lines["row"]) == {4}
    assert lines["column"].tolist() == [0, 1, 2, 0, -1, -1]
