"""What a sheet shows beside its texts: hidden and struck-out rows, hidden columns, merged cells, in three formats."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
import xlwt
from odf import opendocument, style, table
from test_reading import ods_cell, ods_row, sheets_of, with_sheet_xml, xls, xlsx

from pipeline.files.reread_layout import struck_rows
from pipeline.model import Sheet

HEADINGS = ("Tag", "Day", "Town")
ROWS = (("SM0001", "3/9/26", "Amherst"), ("SM0002", "4/9/26", "Truro"), ("SM0003", "5/9/26", "Sussex"))
LINES = ((), HEADINGS, *ROWS)  # the first row is a merged title


def xlsx_sheet(struck: Callable[[int, int], bool]) -> bytes:
    def fill(book: Any, sheet: Any) -> None:
        line = book.add_format({"font_strikeout": True})
        sheet.merge_range(0, 0, 0, 2, "Monarchs")
        sheet.merge_range(2, 2, 3, 2, "Amherst")
        for row, cells in enumerate(LINES):
            for column, cell in enumerate(cells):
                if (row, column) != (3, 2):
                    sheet.write(row, column, cell, line if struck(row, column) else None)
        sheet.set_row(3, None, None, {"hidden": True})
        sheet.set_column(1, 1, None, None, {"hidden": True})
        sheet.set_column(8, 16383, None, None, {"hidden": True})

    return xlsx(fill)


def xls_sheet(struck: Callable[[int, int], bool]) -> bytes:
    def fill(sheet: Any) -> None:
        plain, line = xlwt.easyxf(""), xlwt.easyxf("font: struck_out on")
        sheet.write_merge(0, 0, 0, 2, "Monarchs")
        sheet.write_merge(2, 3, 2, 2, "Amherst")
        for row, cells in enumerate(LINES):
            for column, cell in enumerate(cells):
                if column < 2 or row not in (2, 3):
                    sheet.write(row, column, cell, line if struck(row, column) else plain)
        sheet.row(3).hidden = True
        sheet.col(1).hidden = True

    return xls(fill)


def ods_sheet(struck: Callable[[int, int], bool]) -> bytes:
    document = opendocument.OpenDocumentSpreadsheet()
    line = style.Style(name="ce1", family="table-cell")
    line.addElement(style.TextProperties(textlinethroughstyle="solid"))
    document.automaticstyles.addElement(line)
    sheet = table.Table(name="A")
    for about in ({}, {"visibility": "collapse"}, {}, {"visibility": "collapse", "numbercolumnsrepeated": 1021}):
        sheet.addElement(table.TableColumn(**about))
    for row, cells in enumerate([("Monarchs",), *LINES[1:]]):
        written = [ods_cell(cell) for cell in cells]
        for column, cell in enumerate(written):
            if struck(row, column):
                cell.setAttribute("stylename", line)
        if row == 0:
            written[0].setAttribute("numbercolumnsspanned", "3")
        if row == 2:
            written[2].setAttribute("numberrowsspanned", "2")
        if row == 3:
            written[2] = table.CoveredTableCell()
        sheet.addElement(ods_row(*written, **({"visibility": "filter"} if row == 3 else {})))
    document.spreadsheet.addElement(sheet)
    import io

    kept = io.BytesIO()
    document.write(kept)
    return kept.getvalue()


MADE = [pytest.param(xlsx_sheet, id="xlsx"), pytest.param(xls_sheet, id="xls"), pytest.param(ods_sheet, id="ods")]


def the_sheet(tmp_path: Path, data: bytes) -> Sheet:
    (sheet,) = sheets_of(tmp_path, data)
    assert [texts[:2] for texts in sheet.texts] == [("Monarchs",), *(line[:2] for line in LINES[1:])]
    return sheet


@pytest.mark.parametrize("made", MADE)
def test_hidden_and_merged_cells_are_named_as_far_as_the_sheet_goes(
    tmp_path: Path, made: Callable[[Callable[[int, int], bool]], bytes]
) -> None:
    sheet = the_sheet(tmp_path, made(lambda row, column: False))
    assert sheet.hidden_rows == {4}
    assert sheet.hidden_columns == {1}
    assert sorted(sheet.merged) == [(1, 0, 1, 2), (3, 2, 4, 2)]
    assert sheet.struck_rows == frozenset()


@pytest.mark.parametrize("made", MADE)
@pytest.mark.parametrize(
    ("struck", "rows"),
    [
        pytest.param(lambda row, column: row == 4, {5}, id="every-cell"),
        pytest.param(lambda row, column: row == 4 and column < 2, {5}, id="most-cells"),
        pytest.param(lambda row, column: row == 4 and column == 0, {5}, id="the-code-alone"),
        pytest.param(lambda row, column: row == 4 and column == 2, set(), id="only-the-town"),
        pytest.param(lambda row, column: row == 4 and column == 1, set(), id="only-the-day"),
    ],
)
def test_a_row_with_a_line_through_it_is_named(
    tmp_path: Path, made: Callable[..., bytes], struck: Callable[[int, int], bool], rows: set[int]
) -> None:
    assert the_sheet(tmp_path, made(struck)).struck_rows == rows


def test_blank_cells_with_a_line_through_them_strike_no_row() -> None:
    texts, kinds = (("SM0001", "", "x"), ()), ("t-t", "")
    assert struck_rows([(0, 1), (0, 7), (1, 0), (9, 0)], texts, kinds) == frozenset()


@pytest.mark.parametrize(
    ("xml", "rows", "columns", "merged"),
    [
        pytest.param('<row r="2" hidden="1">', {2}, set(), (), id="row"),
        pytest.param("<row r='2' hidden='true'>", {2}, set(), (), id="other-quotes"),
        pytest.param('<row hidden="1" r="2">', {2}, set(), (), id="other-order"),
        pytest.param('<row r="2" hidden="0">', set(), set(), (), id="row-shown"),
    ],
)
def test_other_programs_ways_of_writing_are_understood(
    tmp_path: Path, xml: str, rows: set[int], columns: set[int], merged: tuple[Any, ...]
) -> None:
    data = xlsx(lambda _, sheet: sheet.write_column(0, 0, ["tag", "x"]))
    row = '<c r="A{}" t="inlineStr"><is><t>{}</t></is></c></row>'
    sheet_xml = (
        '<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData><row r="1">'
        + row.format(1, "tag")
        + xml
        + row.format(2, "x")
        + "</sheetData></worksheet>"
    )
    (sheet,) = sheets_of(tmp_path, with_sheet_xml(data, sheet_xml.encode()))
    assert (sheet.texts, sheet.hidden_rows, sheet.hidden_columns) == ((("tag",), ("x",)), rows, columns)
    assert sheet.merged == merged


def test_a_merged_range_without_end_is_cut_to_the_sheet(tmp_path: Path) -> None:
    def fill(_: Any, sheet: Any) -> None:
        sheet.merge_range(0, 0, 1, 1, "tag")
        sheet.write(3, 2, "x")

    data = xlsx(fill)
    with zipfile.ZipFile(io.BytesIO(data)) as package:
        sheet_xml = package.read("xl/worksheets/sheet1.xml")
    assert b'ref="A1:B2"' in sheet_xml
    endless = sheet_xml.replace(b'<mergeCell ref="A1:B2"', b'<mergeCell ref="A1:XFD1048576"')
    (sheet,) = sheets_of(tmp_path, with_sheet_xml(data, endless))
    assert sheet.merged == ((1, 0, 4, 2),)
