"""Tables to records: which rows are records, what stands in them as typed, and in which column."""

from __future__ import annotations

import pandas as pd
import pytest

from pipeline.files.schemas import heading_names
from pipeline.frames import Records, letter
from pipeline.model import Heading, Sheet, Table
from pipeline.stages.gather import gather
from pipeline.stages.map_headings import map_headings
from pipeline.values.table_columns import kept_rows


def tables_of(text: str, name: str = "Tags") -> tuple[Table, ...]:
    """The tables of a sheet from lines with `|` between cells; an empty line is an empty row."""
    lines = text.strip("\n").split("\n")
    texts = tuple(tuple(cell.strip() for cell in line.split("|")) if line else () for line in lines)
    kinds = tuple("".join("t" if cell else "-" for cell in row) for row in texts)
    return map_headings(Sheet("p1/a.csv", "ab" * 32, name, texts, kinds), heading_names())


def gathered(*texts: str) -> Records:
    return gather([table for text in texts for table in tables_of(text)])


def places(records: Records) -> dict[str, tuple[int, int, str]]:
    """By field: row (0 if the record's own), column, hint."""
    lines = records.places[["field", "row", "column", "hint"]].itertuples(index=False)
    return {field: (row, column, hint) for field, row, column, hint in lines}


TWO_COLUMNS = """
Tag|Date|Sex
SM0001|3 Sept 2026|F
SM0002|4 Sept 2026|M
"""


def test_a_record_keeps_its_cells_as_typed_and_the_number_of_its_row() -> None:
    rows = gathered(TWO_COLUMNS).rows
    assert rows["row"].tolist() == [2, 3]
    assert rows["tagCode_written"].tolist() == ["SM0001", "SM0002"]
    assert rows["sex_kind"].tolist() == ["t", "t"]
    assert rows[["file", "sheet"]].drop_duplicates().to_numpy().tolist() == [["p1/a.csv", "Tags"]]


LEFT_OUT = [
    ("an empty row", "Tag|Date|Sex\nSM0001|3 Sept|F\n\nSM0002|4 Sept|M", [2, 4]),
    ("a row of blanks", "Tag|Date|Sex\nSM0001|3 Sept|F\n | | \nSM0002|4 Sept|M", [2, 4]),
    ("a total", "Tag|Date|Sex\nSM0001|3 Sept|F\nTotal|1|", [2]),
    ("the heading said again", "Tag|Date|Sex\nSM0001|3 Sept|F\nTag|Date|Sex\nSM0002|4 Sept|M", [2, 4]),
    ("nothing below the heading", "Tag|Date|Sex", []),
]


@pytest.mark.parametrize(("text", "rows"), [case[1:] for case in LEFT_OUT], ids=[case[0] for case in LEFT_OUT])
def test_what_is_no_record_is_not_gathered(text: str, rows: list[int]) -> None:
    (table,) = tables_of(text)
    assert kept_rows(table) == rows
    assert gather([table]).rows["row"].tolist() == rows


def test_rows_of_uneven_length_are_filled_up_with_blanks() -> None:
    rows = gathered("Tag|Date|Sex|Town\nSM0001|3 Sept\nSM0002|4 Sept|M|Truro").rows
    assert rows["municipality_written"].tolist() == ["", "Truro"]
    assert rows["municipality_kind"].tolist() == ["-", "t"]


def test_a_column_that_no_row_reaches_is_blank_where_another_table_has_it() -> None:
    rows = gathered("Tag|Date|Sex|Town\nSM0001|3 Sept|F", "Tag|Date|Town\nSM0002|4 Sept|Truro").rows
    assert rows["municipality_written"].tolist() == ["", "Truro"]


def test_tables_of_other_layouts_stand_below_each_other_with_a_number_each() -> None:
    rows = gathered(TWO_COLUMNS, "Date|Étiquette|Ville\n2026-09-05|SM0003|Moncton").rows
    assert rows["table_id"].tolist() == [0, 0, 1]
    assert rows["tagCode_written"].tolist() == ["SM0001", "SM0002", "SM0003"]
    assert rows["sex_written"].tolist() == ["F", "M", ""]
    assert rows["sex_kind"].tolist() == ["t", "t", "-"]
    assert rows["municipality_written"].tolist() == ["", "", "Moncton"]


def test_tables_are_numbered_from_the_first_number_given() -> None:
    records = gather(tables_of(TWO_COLUMNS), first_id=7)
    assert set(records.rows["table_id"]) == set(records.places["table_id"]) == {7}


def test_the_cells_of_an_unknown_or_kept_column_are_no_field() -> None:
    records = gathered("Tag|Date|Sex|Wind|Zqx\nSM0001|3 Sept|F|NW|9")
    assert sorted(records.places["field"]) == ["eventDate", "sex", "tagCode"]
    assert not {"kept_written", "_written"} & set(records.rows)


def test_a_mark_that_we_put_between_cells_is_a_blank_in_a_cell() -> None:
    sheet = Sheet("a.csv", "ab", "", (("Tag", "Date", "Sex"), ("SM\x1f0001", "3 Sept", "F")), ("ttt", "ttt"))
    assert gather(map_headings(sheet, heading_names())).rows["tagCode_written"].tolist() == ["SM 0001"]


GIVEN_ONCE = """
Name: Anna Belliveau
Town|Truro

Tag|Date|Sex
SM0001|3 Sept 2026|F
SM0002|4 Sept 2026|M
"""


def test_what_is_said_once_above_a_table_holds_for_each_row() -> None:
    records = gathered(GIVEN_ONCE)
    assert records.rows["municipality_written"].tolist() == ["Truro", "Truro"]
    assert records.rows["municipality_kind"].tolist() == ["t", "t"]
    assert records.rows["recordedBy_written"].tolist() == ["Anna Belliveau"] * 2


def test_what_is_said_once_stands_where_it_was_said() -> None:
    found = places(gathered(GIVEN_ONCE))
    assert found["municipality"] == (2, 1, "")
    assert found["recordedBy"] == (1, 0, "")
    assert found["sex"] == (0, 2, "")


def test_a_row_that_says_it_itself_keeps_its_own_word() -> None:
    records = gathered("Town: Truro\nTag|Date|Town\nSM0001|3 Sept 2026|Amherst\nSM0002|4 Sept 2026|")
    assert records.rows["municipality_written"].tolist() == ["Amherst", "Truro"]
    assert places(records)["municipality"] == (0, 2, "")


PARTS = [
    ("both coordinates in one cell", "Coordinates", {"decimalLatitude": 2, "decimalLongitude": 2}),
    (
        "degrees and minutes apart",
        "Lat deg|Lat min|Long deg|Long min",
        {"decimalLatitude": 2, "decimalLongitude": 4},
    ),
    ("a grid", "Easting|Northing", {"decimalLatitude": 2, "decimalLongitude": 2}),
    ("a grid reference", "MGRS", {"decimalLatitude": 2, "decimalLongitude": 2}),
]


@pytest.mark.parametrize(("headings", "columns"), [case[1:] for case in PARTS], ids=[case[0] for case in PARTS])
def test_a_field_made_of_parts_stands_in_the_column_of_its_first_part(headings: str, columns: dict[str, int]) -> None:
    found = places(gathered(f"Tag|Date|{headings}\nSM0001|3 Sept|" + "|".join("1" for _ in headings.split("|"))))
    assert {field: found[field][1] for field in columns} == columns


def test_the_parts_of_day_and_code_name_the_columns_of_both_fields() -> None:
    found = places(gathered("Prefix|Number|Day|Month|Year\nSM|0001|3|9|2026"))
    assert (found["tagCode"][1], found["eventDate"][1]) == (1, 2)


def test_a_field_with_a_column_of_its_own_stands_there_though_its_parts_have_columns_too() -> None:
    found = places(gathered("Coordinates|Tag|Date|Latitude\n45.5, -64.8|SM0001|3 Sept|45.6"))
    assert found["decimalLatitude"][1] == 3
    assert found["decimalLongitude"][1] == 0


def test_what_a_heading_says_beside_its_name_is_kept_for_the_reader() -> None:
    found = places(gathered("Tag|Date|Forewing (cm)|Longitude (W)\nSM0001|3 Sept|5|64.8"))
    assert found["forewingLength"][2] == "cm"
    assert found["decimalLongitude"][2] == "W"


def test_a_hemisphere_in_the_heading_of_the_degrees_is_kept_for_the_reader() -> None:
    found = places(gathered("Tag|Date|Lat deg|Lat min|Long deg (W)|Long min\nSM0001|3 Sept|45|30|64|48"))
    assert found["decimalLongitude"][2] == "W"


def test_no_table_at_all_makes_no_record() -> None:
    records = gather([])
    assert records.rows.empty and records.places.empty
    assert {"table_id", "file", "file_sha256", "sheet", "table", "row"} <= set(records.rows)


def test_a_table_made_by_hand_with_a_left_out_row_keeps_the_others() -> None:
    texts = (("Tag",), ("SM0001",), ("a note",), ("SM0002",))
    table = Table(Sheet("a", "b", "", texts, ("t",) * 4), 1, 1, (Heading(0, "Tag", "tagCode"),), 2, 4, {3: "note"})
    assert gather([table]).rows["row"].tolist() == [2, 4]


# From memory of how spreadsheets name their columns: A to Z, then AA; the last of a workbook is XFD (16,384).
LETTERS = [(0, "A"), (25, "Z"), (26, "AA"), (51, "AZ"), (52, "BA"), (701, "ZZ"), (702, "AAA"), (16383, "XFD"), (-1, "")]


@pytest.mark.parametrize(("column", "name"), LETTERS, ids=[name or "none" for _, name in LETTERS])
def test_a_column_is_called_by_its_letter(column: int, name: str) -> None:
    assert letter(column) == name


def test_records_are_text_and_numbers_of_the_expected_types() -> None:
    rows = gathered(TWO_COLUMNS).rows
    assert all(pd.api.types.is_integer_dtype(rows[name]) for name in ("table_id", "table", "row"))
    assert all(isinstance(rows[name].dtype, pd.StringDtype) for name in ("file", "tagCode_written", "tagCode_kind"))
