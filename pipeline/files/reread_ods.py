"""Reads an .ods workbook's own XML for what the fast reader cannot tell, and for how often cells repeat."""

from __future__ import annotations

import io
import re
from typing import Any

from defusedxml.ElementTree import iterparse

from pipeline.files.limits import MOST_COLUMNS, MOST_ROWS, TooManyCells
from pipeline.files.reread import Better, Found
from pipeline.model import CLOCK, ERROR, FORMULA, NUMBER

OFFICE = "{urn:oasis:names:tc:opendocument:xmlns:office:1.0}"
TABLE = "{urn:oasis:names:tc:opendocument:xmlns:table:1.0}"
WORDS = "{urn:oasis:names:tc:opendocument:xmlns:text:1.0}"
CALC = "{urn:org:documentfoundation:names:experimental:calc:xmlns:calcext:1.0}"
SHOWN_WITH_ZEROS = re.compile(r"0\d+")
DURATION = re.compile(r"PT(?:(\d+)H)?(?:(\d+)M)?(?:(\d+)(?:[.,]\d+)?S)?")
# How office programs show an error value where the file does not mark it as one.
ERROR_SHOWN = re.compile(r"#(?:N/A|DIV/0!|VALUE!|REF!|NAME\?|NUM!|NULL!)|Err:\d{3}")


def read_ods_again(content: bytes) -> dict[str, Better]:
    """By sheet name, the cells and hidden rows of an .ods workbook that the fast reader cannot tell.

    Rows and cells that repeat are counted as often as they do; past the limits they raise TooManyCells.
    """
    better: dict[str, Better] = {}
    found: Found = {}
    hidden: set[int] = set()
    row = 0
    for _, element in iterparse(io.BytesIO(content)):
        if element.tag == TABLE + "table-row":
            times = int(element.get(TABLE + "number-rows-repeated", "1"))
            is_filled = _ods_row(element, row, times, found)
            if element.get(TABLE + "visibility") in ("collapse", "filter") and is_filled:
                hidden.update(range(row + 1, row + times + 1))
            row += times
            if is_filled and row > MOST_ROWS:
                raise TooManyCells
            element.clear()
        elif element.tag == TABLE + "table":
            better[element.get(TABLE + "name", "")] = (found, frozenset(hidden))
            found, hidden, row = {}, set(), 0
            element.clear()
    return better


def _ods_row(element: Any, row: int, times: int, found: Found) -> bool:
    """Notes the row's cells, repeated as often as the row; says whether it holds any filled cell."""
    column = 0
    is_filled = False
    for cell in element:
        if cell.tag not in (TABLE + "table-cell", TABLE + "covered-table-cell"):
            continue
        across = int(cell.get(TABLE + "number-columns-repeated", "1"))
        text, kind = _ods_cell(cell)
        if kind:
            is_filled = True
            if column + across > MOST_COLUMNS or row + times > MOST_ROWS:
                raise TooManyCells
        if kind in (CLOCK, ERROR, FORMULA, NUMBER):
            for down in range(row, row + times):
                for at in range(column, column + across):
                    found[(down, at)] = (text, kind)
        column += across
    return is_filled


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
    is_shown_with_zeros = kind == "float" and SHOWN_WITH_ZEROS.fullmatch(shown)
    if is_shown_with_zeros and float(cell.get(OFFICE + "value", "0")) == int(shown):
        return shown, NUMBER
    return "", "as read" if kind or shown else ""


def _hours_shown(duration: re.Match[str]) -> str:
    hours, minutes, seconds = (int(part or "0") for part in duration.groups())
    text = f"{hours:02}:{minutes:02}"
    return f"{text}:{seconds:02}" if seconds else text
