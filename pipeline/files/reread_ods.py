"""Reads an .ods workbook's own XML for what the fast reader cannot tell, and for how often cells repeat."""

from __future__ import annotations

import io
import re
from dataclasses import dataclass, field
from typing import Any

from defusedxml.ElementTree import iterparse

from pipeline.files.limits import MOST_CELLS, MOST_COLUMNS, MOST_ROWS, SPREAD, TooManyCells
from pipeline.files.reread import Better, Found
from pipeline.files.reread_layout import Cell, Layout, Merged
from pipeline.model import CLOCK, ERROR, FORMULA, NUMBER

OFFICE = "{urn:oasis:names:tc:opendocument:xmlns:office:1.0}"
TABLE = "{urn:oasis:names:tc:opendocument:xmlns:table:1.0}"
WORDS = "{urn:oasis:names:tc:opendocument:xmlns:text:1.0}"
STYLE = "{urn:oasis:names:tc:opendocument:xmlns:style:1.0}"
CALC = "{urn:org:documentfoundation:names:experimental:calc:xmlns:calcext:1.0}"
CELL_TAGS = (TABLE + "table-cell", TABLE + "covered-table-cell")
HIDDEN = ("collapse", "filter")
SHOWN_WITH_ZEROS = re.compile(r"(?:[A-Za-z]{1,3}(?=\d\d)|(?=0\d))(\d+)")  # 00123, and SM0012 for 12
DURATION = re.compile(r"PT(?:(\d+)H)?(?:(\d+)M)?(?:(\d+)(?:[.,]\d+)?S)?")
# How office programs show an error value where the file does not mark it as one.
ERROR_SHOWN = re.compile(r"#(?:N/A|DIV/0!|VALUE!|REF!|NAME\?|NUM!|NULL!)|Err:\d{3}")


@dataclass
class _Sheet:
    """What was found on a sheet so far; `row` and `column` are how many were passed."""

    cells: Found = field(default_factory=dict)
    row: int = 0
    column: int = 0
    last_row: int = 0
    last_column: int = 0
    hidden_rows: set[int] = field(default_factory=set)
    hidden_columns: set[int] = field(default_factory=set)
    column_styles: list[str] = field(default_factory=list)
    struck: set[Cell] = field(default_factory=set)
    merged: list[Merged] = field(default_factory=list)

    def found(self) -> Better:
        layout = Layout(
            frozenset(self.hidden_rows), frozenset(self.hidden_columns), frozenset(self.struck), tuple(self.merged)
        )
        return Better(self.cells, layout)


def read_ods_again(content: bytes) -> dict[str, Better]:
    """By sheet name, the cells and layout of an .ods workbook that the fast reader cannot tell.

    Rows and cells that repeat are counted as often as they do; past the limits they raise TooManyCells.
    """
    better: dict[str, Better] = {}
    struck_styles: set[str] = set()
    sheet = _Sheet()
    for _, element in iterparse(io.BytesIO(content)):
        if element.tag == TABLE + "table-row":
            _take_row(element, sheet, struck_styles)
            element.clear()
        elif element.tag == TABLE + "table-column":
            _take_columns(element, sheet)
        elif element.tag == STYLE + "style":
            if _strikes(element):
                struck_styles.add(element.get(STYLE + "name", ""))
        elif element.tag == TABLE + "table":
            better[element.get(TABLE + "name", "")] = sheet.found()
            sheet = _Sheet()
            element.clear()
    return better


def _strikes(style: Any) -> bool:
    words = style.find(STYLE + "text-properties")
    if words is None or style.get(STYLE + "family") != "table-cell":
        return False
    line = [words.get(STYLE + f"text-line-through-{part}", "none") for part in ("style", "type")]
    return line != ["none", "none"]


def _times(element: Any, of: str) -> int:
    return max(1, int(element.get(TABLE + f"number-{of}-repeated", "1")))


def _take_columns(element: Any, sheet: _Sheet) -> None:
    last = min(sheet.column + _times(element, "columns"), MOST_COLUMNS)
    if element.get(TABLE + "visibility") in HIDDEN:
        sheet.hidden_columns.update(range(sheet.column, last))
    sheet.column_styles += [element.get(TABLE + "default-cell-style-name", "")] * (last - sheet.column)
    sheet.column = last


def _take_row(element: Any, sheet: _Sheet, struck_styles: set[str]) -> None:
    """Notes the row's cells, repeated as often as the row."""
    times = _times(element, "rows")
    column = width = 0
    for cell in element:
        if cell.tag not in CELL_TAGS:
            continue
        across = _times(cell, "columns")
        text, kind = _ods_cell(cell)
        if kind:
            width = column + across
            if width > MOST_COLUMNS or sheet.row + times > MOST_ROWS:
                raise TooManyCells
            _take_cell(cell, (text, kind), (column, across, times), sheet)
            if struck_styles and _style(cell, element, column, sheet) in struck_styles:
                sheet.struck.update((sheet.row + down, column + at) for down in range(times) for at in range(across))
        column += across
    if width and element.get(TABLE + "visibility") in HIDDEN:
        sheet.hidden_rows.update(range(sheet.row + 1, sheet.row + times + 1))
    sheet.row += times
    if width:
        sheet.last_row, sheet.last_column = sheet.row, max(sheet.last_column, width)
        if sheet.last_row * sheet.last_column > MOST_CELLS:
            raise TooManyCells(SPREAD)


def _take_cell(cell: Any, read: tuple[str, str], span: tuple[int, int, int], sheet: _Sheet) -> None:
    column, across, times = span
    if read[1] in (CLOCK, ERROR, FORMULA, NUMBER):
        for down in range(sheet.row, sheet.row + times):
            for at in range(column, column + across):
                sheet.cells[(down, at)] = read
    wide, high = (int(cell.get(TABLE + f"number-{of}-spanned", "1")) for of in ("columns", "rows"))
    if wide > 1 or high > 1:
        sheet.merged.append((sheet.row + 1, column, sheet.row + max(high, 1), column + max(wide, 1) - 1))


def _style(cell: Any, row: Any, column: int, sheet: _Sheet) -> str:
    """The style of a cell: its own, or its row's, or its column's."""
    of_column = sheet.column_styles[column] if column < len(sheet.column_styles) else ""
    own: str = cell.get(TABLE + "style-name") or row.get(TABLE + "default-cell-style-name") or of_column
    return own


def _ods_cell(cell: Any) -> tuple[str, str]:
    """A cell's text and kind where it needs another than the fast reader's; kind "" is a blank cell."""
    kind = cell.get(OFFICE + "value-type", "")
    first = cell.find(WORDS + "p")
    shown = "".join(first.itertext()) if first is not None else ""
    formula = cell.get(TABLE + "formula", "")
    is_marked = cell.get(CALC + "value-type") == "error"
    if is_marked or (formula and ERROR_SHOWN.fullmatch(shown)):
        return shown or "#N/A", ERROR
    if formula and not kind:
        return "=" + formula.partition("=")[2], FORMULA
    hours = DURATION.match(cell.get(OFFICE + "time-value", ""))
    if hours:  # more than a day's hours come as PT27H30M00S
        return _hours_shown(hours), CLOCK
    zeros = SHOWN_WITH_ZEROS.fullmatch(shown) if kind == "float" else None
    if zeros and float(cell.get(OFFICE + "value", "0")) == int(zeros[1]):
        return shown, NUMBER
    return "", "as read" if kind or shown else ""


def _hours_shown(duration: re.Match[str]) -> str:
    hours, minutes, seconds = (int(part or "0") for part in duration.groups())
    text = f"{hours:02}:{minutes:02}"
    return f"{text}:{seconds:02}" if seconds else text
