"""Reads a workbook a second time for what the fast reader cannot tell.

Those are the spreadsheet's error values, formulas without a saved result, zeros that a number
format shows in front (00123), and the layout: what is hidden, merged or struck through. An .xlsx
is read from its own XML, since what is missing stands there plainly: a full second reader took
38 s for 100,000 rows. What a format cannot tell stays unknown: an .xls formula always has a saved
result.
"""

from __future__ import annotations

import io
import posixpath
import re
from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import Any, NamedTuple

from pipeline.files.reread_layout import ADDRESS, Cell, Layout, column_number, layout_of
from pipeline.files.scan import Scan, Zeros, struck_styles, styles_with_zeros
from pipeline.model import ERROR, FORMULA, NUMBER

Found = dict[Cell, tuple[str, str]]  # row and column from 0: text and kind
CELL = re.compile(rb"(?P<start><(?P<prefix>(?:\w+:)?)c\b[^>]*(?<!/)>).*?</(?:\w+:)?c>", re.DOTALL)
WORTH = re.compile(rb"""^[^>]*\st=["']e["']|<(?:\w+:)?f\b""")  # cells that the fast reader may lose
WORKBOOK_LINKS = "xl/_rels/workbook.xml.rels"


class Better(NamedTuple):
    """What a second reading of a sheet found: cells in place of the fast reader's, and its layout."""

    cells: Mapping[Cell, tuple[str, str]] = MappingProxyType({})
    layout: Layout = Layout()


def as_shown(number: float, zeros: Zeros) -> str:
    """The number as a format with zeros shows it, "" where it shows nothing but the number.

    >>> as_shown(123, Zeros("", 5)), as_shown(12, Zeros("SM", 4)), as_shown(123, Zeros("", 2))
    ('00123', 'SM0012', '')
    """
    if not 0 <= number < 1e15 or number != int(number):
        return ""
    text = f"{int(number):0{zeros.digits}d}"
    return zeros.before + text if zeros.before or text.startswith("0") else ""


def read_xlsx_again(parts: Mapping[str, bytes], seen: Scan) -> dict[str, Better]:
    """By sheet name, what the fast reader cannot tell of an .xlsx workbook, as far as the scan saw any of it."""
    styles = parts.get("xl/styles.xml", b"")
    zeros = {style.decode(): shown for style, shown in styles_with_zeros(styles).items()}
    struck = struck_styles(styles) if seen.has_struck_cells else frozenset()
    return {
        name: Better(
            _cells_again(parts[part], zeros) if seen.has_lost_cells else {},
            layout_of(parts[part], struck) if seen.has_layout or struck else Layout(),
        )
        for name, part in _sheet_parts(parts)
    }


def _sheet_parts(parts: Mapping[str, bytes]) -> Iterator[tuple[str, str]]:
    """The sheets' names and where in the archive they stand, by way of the workbook's own list."""
    from defusedxml.ElementTree import fromstring

    others = (name for name in parts if name.startswith("xl/_rels/"))
    listed = WORKBOOK_LINKS if WORKBOOK_LINKS in parts else next(others)
    targets = {link.get("Id"): link.get("Target", "") for link in fromstring(parts[listed])}
    workbook = "xl/" + posixpath.basename(listed).removesuffix(".rels")
    for element in fromstring(parts[workbook]).iter():
        if element.tag.endswith("}sheet"):
            link = next(value for name, value in element.items() if name.endswith("}id"))
            part = posixpath.normpath(posixpath.join("/xl", targets[link]))[1:]
            if part in parts:
                yield element.get("name", ""), part


def _cells_again(xml: bytes, zeros: dict[str, Zeros]) -> Found:
    from defusedxml.ElementTree import fromstring, iterparse

    worth = re.compile(WORTH.pattern + b"".join(rb"""|^[^>]*\ss=["']%s["']""" % style.encode() for style in zeros))
    picked = [found for found in CELL.finditer(xml) if worth.search(found[0])]
    found: Found = {}
    if all(ADDRESS.search(cell["start"]) for cell in picked):
        named = {cell["prefix"] for cell in picked if cell["prefix"]}
        spaces = b"".join(b' xmlns:%s="cells"' % prefix[:-1] for prefix in named)
        row = b'<row xmlns="cells"%s>%s</row>' % (spaces, b"".join(cell[0] for cell in picked))
        _take_cells(fromstring(row), 0, zeros, found)
        return found
    row_number = 0  # programs that leave addresses out write every row and every cell of it
    for _, element in iterparse(io.BytesIO(xml)):
        if element.tag.endswith("}row"):
            row_number = int(element.get("r", row_number + 1))
            _take_cells(element, row_number, zeros, found)
            element.clear()
    return found


def _take_cells(row: Any, row_number: int, zeros: dict[str, Zeros], found: Found) -> None:
    for at, cell in enumerate(row):
        text, kind = _cell_again(cell, zeros)
        if kind:
            address = cell.get("r", "")
            letters = address.rstrip("0123456789")
            place = int(address[len(letters) :] or row_number) - 1
            found[(place, column_number(letters.encode()) if letters else at)] = (text, kind)


def _cell_again(cell: Any, zeros: dict[str, Zeros]) -> tuple[str, str]:
    """A cell's text and kind where it needs another than the fast reader's, else nothing."""
    of_type = cell.get("t", "n")
    shown = zeros.get(cell.get("s", ""))
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
        text = as_shown(float(saved), shown)
        return (text, NUMBER) if text else ("", "")
    return "", ""
