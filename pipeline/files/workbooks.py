"""Reads a workbook's sheets as stored: the text and the kind of every cell, at its own address."""

from __future__ import annotations

import datetime
import io
from collections.abc import Callable, Mapping
from dataclasses import replace
from decimal import Decimal
from typing import Any

from python_calamine import CalamineSheet, CalamineWorkbook, SheetTypeEnum, SheetVisibleEnum

from pipeline.files.limits import MOST_CELLS, MOST_COLUMNS, MOST_ROWS, SPREAD, TooManyCells
from pipeline.files.reread import Better, read_xlsx_again
from pipeline.files.reread_layout import Layout, struck_rows, within
from pipeline.files.scan import scan
from pipeline.model import BLANK, BOOLEAN, CLOCK, DAY, NUMBER, TEXT, Sheet

Cells = tuple[tuple[tuple[str, ...], ...], tuple[str, ...]]  # texts and kinds, from row 1 and column A
PLAIN = Better()  # of a sheet that the fast reader read in full
UNSURE = "a workbook whose damaged cells and hidden rows we could not tell"
SHOWN_DIGITS = ".15g"  # a spreadsheet keeps and shows 15 digits; what stands behind them is noise of sums
HALF_A_SECOND = datetime.timedelta(microseconds=500_000)


class HasMacroSheet(Exception):
    """A workbook holds a sheet of macros in the oldest manner."""


def read_workbook(
    data: bytes, kind: str, parts: Mapping[str, bytes], file: str, file_sha256: str
) -> tuple[tuple[Sheet, ...], str]:
    """The sheets of an .xlsx, .xls or .ods workbook, and a word where its second reading did not succeed.

    A blank sheet has no rows; leading blank rows and columns are kept, trailing ones are not.
    """
    better, note = _read_again(data, kind, parts)
    sheets = []
    with CalamineWorkbook.from_filelike(io.BytesIO(data)) as workbook:
        for at, about in enumerate(workbook.sheets_metadata):
            if about.typ == SheetTypeEnum.MacroSheet:
                raise HasMacroSheet
            if about.typ != SheetTypeEnum.WorkSheet:
                continue
            is_hidden = about.visible != SheetVisibleEnum.Visible
            again = better.get(about.name, PLAIN)
            cells = _laid_over(_cells(workbook.get_sheet_by_index(at)), again.cells)
            sheet = Sheet(file, file_sha256, about.name, *cells, is_hidden=is_hidden)
            sheets.append(sheet if again is PLAIN else _with_layout(sheet, again.layout))
    return tuple(sheets), note


def _with_layout(sheet: Sheet, layout: Layout) -> Sheet:
    seen = within(layout, len(sheet.texts), max(map(len, sheet.texts), default=0))
    return replace(
        sheet,
        hidden_rows=seen.hidden_rows,
        hidden_columns=seen.hidden_columns,
        struck_rows=struck_rows(seen.struck, sheet.texts, sheet.kinds),
        merged=seen.merged,
    )


def _read_again(data: bytes, kind: str, parts: Mapping[str, bytes]) -> tuple[dict[str, Better], str]:
    """By sheet name, what the fast reader cannot tell; the slow readers are loaded only when needed."""
    if kind == "xlsx":
        seen = scan(parts)
        if seen.too_big:
            raise TooManyCells(seen.too_big)
        if not seen.needs_rereading:
            return {}, ""
    try:
        if kind == "xlsx":
            return read_xlsx_again(parts, seen), ""
        if kind == "xls":
            from pipeline.files.reread_xls import read_xls_again

            return read_xls_again(data), ""
        from pipeline.files.reread_ods import read_ods_again

        return read_ods_again(parts["content.xml"]), ""
    except TooManyCells:
        raise
    except Exception:
        # Strict readers refuse workbooks that a spreadsheet program opens: the cells still count.
        return {}, UNSURE


def _cells(sheet: CalamineSheet) -> Cells:
    end = sheet.end
    if end is None:
        return (), ()
    if end[0] >= MOST_ROWS or end[1] >= MOST_COLUMNS:
        raise TooManyCells
    if (end[0] + 1) * (end[1] + 1) > MOST_CELLS:
        raise TooManyCells(SPREAD)
    texts: list[tuple[str, ...]] = []
    kinds: list[str] = []
    before = [""] * (sheet.start or (0, 0))[1]  # blank rows at the start are counted, blank columns are not
    for row in sheet.iter_rows():
        row_texts, row_kinds = _row(before + row if before else row)
        texts.append(row_texts)
        kinds.append(row_kinds)
    while kinds and not kinds[-1]:
        del kinds[-1], texts[-1]
    return tuple(texts), tuple(kinds)


def _row(cells: list[Any]) -> tuple[tuple[str, ...], str]:
    filled = len(cells)
    while filled and cells[filled - 1] == "":
        filled -= 1
    texts: list[str] = []
    kinds: list[str] = []
    for cell in cells[:filled]:
        of_type = type(cell)
        if of_type is str:
            texts.append(cell)
            kinds.append(TEXT if cell else BLANK)
        else:
            kind, written = WRITTEN[of_type]
            texts.append(written(cell))
            kinds.append(kind)
    return tuple(texts), "".join(kinds)


def shown_number(number: float) -> str:
    """The shortest decimal of a number as a spreadsheet keeps it.

    >>> shown_number(12.0), shown_number(0.1 + 0.2), shown_number(1e-05), shown_number(166198620000.0)
    ('12', '0.3', '0.00001', '166198620000')
    """
    text = format(number, SHOWN_DIGITS)
    if "e" in text and abs(number) < 1e21:
        text = format(Decimal(text), "f")
    return text


def shown_moment(moment: datetime.datetime) -> str:
    """A day, with its time to the minute or second where it has one.

    >>> shown_moment(datetime.datetime(2026, 9, 3)), shown_moment(datetime.datetime(2026, 9, 3, 14, 5))
    ('2026-09-03', '2026-09-03T14:05')
    """
    if moment.microsecond:
        moment = (moment + HALF_A_SECOND).replace(microsecond=0)
    text = moment.isoformat()
    return text[:10] if text.endswith("T00:00:00") else text.removesuffix(":00")


def shown_clock(clock: datetime.time) -> str:
    """A time of the day to the minute or second: 14:05, 14:05:06."""
    if not clock.microsecond:
        return clock.isoformat().removesuffix(":00") if clock.second == 0 else clock.isoformat()
    moment = datetime.datetime.combine(datetime.date(2000, 1, 1), clock) + HALF_A_SECOND
    return shown_clock(moment.time().replace(microsecond=0))


def shown_duration(duration: datetime.timedelta) -> str:
    """A time that counts hours, which may pass 24: 27:30, 03:25:07."""
    seconds = round(duration.total_seconds())
    sign, seconds = ("-", -seconds) if seconds < 0 else ("", seconds)
    text = f"{sign}{seconds // 3600:02}:{seconds // 60 % 60:02}"
    return f"{text}:{seconds % 60:02}" if seconds % 60 else text


WRITTEN: dict[type, tuple[str, Callable[[Any], str]]] = {
    float: (NUMBER, shown_number),
    int: (NUMBER, str),
    bool: (BOOLEAN, lambda cell: "TRUE" if cell else "FALSE"),
    datetime.date: (DAY, datetime.date.isoformat),
    datetime.datetime: (DAY, shown_moment),
    datetime.time: (CLOCK, shown_clock),
    datetime.timedelta: (CLOCK, shown_duration),
}


def _laid_over(cells: Cells, better: Mapping[tuple[int, int], tuple[str, str]]) -> Cells:
    """The cells with those of the second reading in their places, also beyond the first one's edge."""
    if not better:
        return cells
    texts = [list(row) for row in cells[0]]
    kinds = [list(row) for row in cells[1]]
    for (row, column), (text, kind) in better.items():
        while len(texts) <= row:
            texts.append([])
            kinds.append([])
        gap = column + 1 - len(texts[row])
        texts[row].extend([""] * gap)
        kinds[row].extend([BLANK] * gap)
        texts[row][column], kinds[row][column] = text, kind
    return tuple(map(tuple, texts)), tuple(map("".join, kinds))
