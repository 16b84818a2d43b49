"""Reads a workbook a second time for what the fast reader cannot tell.

Those are the spreadsheet's error values, formulas without a saved result, zeros that a number
format shows in front (00123) and hidden rows. An .xlsx is read from its own XML, since what is
missing stands there plainly: a full second reader took 38 s for 100,000 rows. What a format
cannot tell stays unknown: an .xls formula always has a saved result.
"""

from __future__ import annotations

import io
import posixpath
from collections.abc import Iterator, Mapping
from typing import Any

from pipeline.files.scan import digits_shown, styles_with_zeros
from pipeline.model import ERROR, FORMULA, NUMBER

Found = dict[tuple[int, int], tuple[str, str]]  # row and column from 0: text and kind
Better = tuple[Found, frozenset[int]]  # with the rows that are hidden, counted from 1


def with_zeros(number: float, digits: int) -> str:
    """The number as a format of so many zeros shows it, "" where no zero comes in front.

    >>> with_zeros(123, 5), with_zeros(123, 2), with_zeros(4.5, 3)
    ('00123', '', '')
    """
    if number < 0 or number != int(number):
        return ""
    text = f"{int(number):0{digits}d}"
    return text if text.startswith("0") and digits > 1 else ""


def read_xlsx_again(parts: Mapping[str, bytes]) -> dict[str, Better]:
    """By sheet name, the cells and hidden rows of an .xlsx workbook that the fast reader cannot tell."""
    styles = styles_with_zeros(parts.get("xl/styles.xml", b""))
    digits = {style.decode(): shown for style, shown in styles.items()}
    return {name: _read_sheet_again(parts[part], digits) for name, part in _sheet_parts(parts)}


def _sheet_parts(parts: Mapping[str, bytes]) -> Iterator[tuple[str, str]]:
    """The sheets' names and where in the archive they stand, by way of the workbook's own list."""
    from defusedxml.ElementTree import fromstring

    listed = next(name for name in parts if name.startswith("xl/_rels/"))
    targets = {link.get("Id"): link.get("Target", "") for link in fromstring(parts[listed])}
    workbook = "xl/" + posixpath.basename(listed).removesuffix(".rels")
    for element in fromstring(parts[workbook]).iter():
        if element.tag.endswith("}sheet"):
            link = next(value for name, value in element.items() if name.endswith("}id"))
            part = posixpath.normpath(posixpath.join("/xl", targets[link]))[1:]
            if part in parts:
                yield element.get("name", ""), part


def _read_sheet_again(xml: bytes, digits: dict[str, int]) -> Better:
    from defusedxml.ElementTree import iterparse

    found: Found = {}
    hidden: set[int] = set()
    row = 0
    for _, element in iterparse(io.BytesIO(xml)):
        if not element.tag.endswith("}row"):
            continue
        row = int(element.get("r", row + 1))
        if element.get("hidden") in ("1", "true"):
            hidden.add(row)
        for at, cell in enumerate(element):
            if len(cell) == 1 and cell.get("t") in ("s", "str", "inlineStr"):
                continue  # plain text, as most cells are
            text, kind = _cell_again(cell, digits)
            if kind:
                # Programs that leave addresses out write every cell of a row.
                found[(row - 1, _column(cell.get("r")) if cell.get("r") else at)] = (text, kind)
        element.clear()
    return found, frozenset(hidden)


def _column(address: str) -> int:
    number = 0
    for letter in address.rstrip("0123456789"):
        number = number * 26 + ord(letter) - 64
    return number - 1


def _cell_again(cell: Any, digits: dict[str, int]) -> tuple[str, str]:
    """A cell's text and kind where it needs another than the fast reader's, else nothing."""
    of_type = cell.get("t", "n")
    shown = digits.get(cell.get("s", ""), 0)
    formula, saved = None, ""
    for part in cell:
        if part.tag.endswith("}v"):
            saved = part.text or ""
        elif part.tag.endswith("}f"):
            formula = part.text or ""
    if of_type == "e":
        return saved or "#N/A", ERROR
    # A saved text of no letters is a result too; those cells are of the type "str".
    if formula is not None and not saved and of_type not in ("str", "inlineStr"):
        return "=" + formula, FORMULA
    if shown and saved and of_type == "n":
        text = with_zeros(float(saved), shown)
        return (text, NUMBER) if text else ("", "")
    return "", ""


def read_xls_again(data: bytes) -> dict[str, Better]:
    """By sheet name, the error values, shown zeros and hidden rows of an .xls workbook."""
    import xlrd

    workbook = xlrd.open_workbook(file_contents=data, formatting_info=True, logfile=io.StringIO())
    digits = [digits_shown(workbook.format_map[style.format_key].format_str) for style in workbook.xf_list]
    better: dict[str, Better] = {}
    for sheet in workbook.sheets():
        found: Found = {}
        for row in range(sheet.nrows):
            for column, kind in enumerate(sheet.row_types(row)):
                if kind == xlrd.XL_CELL_ERROR:
                    code = int(sheet.cell_value(row, column))
                    found[(row, column)] = (xlrd.error_text_from_code.get(code, "#N/A"), ERROR)
                elif kind == xlrd.XL_CELL_NUMBER and digits[sheet.cell_xf_index(row, column)]:
                    shown = digits[sheet.cell_xf_index(row, column)]
                    text = with_zeros(sheet.cell_value(row, column), shown)
                    if text:
                        found[(row, column)] = (text, NUMBER)
        hidden = frozenset(row + 1 for row, about in sheet.rowinfo_map.items() if about.hidden)
        better[sheet.name] = (found, hidden)
    return better
