"""Reads an .xls workbook a second time for what the fast reader cannot tell."""

from __future__ import annotations

import io
from typing import Any

import xlrd

from pipeline.files.limits import MOST_CELLS, SPREAD, TooManyCells
from pipeline.files.reread import Better, Found, as_shown
from pipeline.files.reread_layout import Layout
from pipeline.files.scan import Zeros, zeros_shown
from pipeline.model import ERROR, NUMBER


def read_xls_again(data: bytes) -> dict[str, Better]:
    """By sheet name, the error values, shown zeros and layout of an .xls workbook."""
    workbook = xlrd.open_workbook(
        file_contents=data, formatting_info=True, ragged_rows=True, on_demand=True, logfile=io.StringIO()
    )
    zeros = [zeros_shown(workbook.format_map[style.format_key].format_str) for style in workbook.xf_list]
    struck = {at for at, style in enumerate(workbook.xf_list) if workbook.font_list[style.font_index].struck_out}
    better: dict[str, Better] = {}
    for number, name in enumerate(workbook.sheet_names()):
        sheet = workbook.sheet_by_index(number)
        if sheet.nrows * max(map(sheet.row_len, range(sheet.nrows)), default=0) > MOST_CELLS:
            raise TooManyCells(SPREAD)
        better[name] = Better(_cells(sheet, zeros), _layout(sheet, struck))
        workbook.unload_sheet(number)
    return better


def _cells(sheet: Any, zeros: list[Zeros | None]) -> Found:
    found: Found = {}
    for row in range(sheet.nrows):
        for column, kind in enumerate(sheet.row_types(row)):
            if kind == xlrd.XL_CELL_ERROR:
                code = int(sheet.cell_value(row, column))
                found[(row, column)] = (xlrd.error_text_from_code.get(code, "#N/A"), ERROR)
            elif kind == xlrd.XL_CELL_NUMBER and (shown := zeros[sheet.cell_xf_index(row, column)]):
                text = as_shown(sheet.cell_value(row, column), shown)
                if text:
                    found[(row, column)] = (text, NUMBER)
    return found


def _layout(sheet: Any, struck: set[int]) -> Layout:
    hidden_rows = frozenset(row + 1 for row, about in sheet.rowinfo_map.items() if about.hidden)
    hidden_columns = frozenset(column for column, about in sheet.colinfo_map.items() if about.hidden)
    merged = tuple((top + 1, left, bottom, right - 1) for top, bottom, left, right in sheet.merged_cells)
    cells = (
        (row, column)
        for row in (range(sheet.nrows) if struck else ())
        for column in range(sheet.row_len(row))
        if sheet.cell_xf_index(row, column) in struck
    )
    return Layout(hidden_rows, hidden_columns, frozenset(cells), merged)
