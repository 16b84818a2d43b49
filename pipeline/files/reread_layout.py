"""What a sheet shows beside its cells' texts: hidden rows and columns, merged cells, lines drawn through text."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from pipeline.files.limits import MOST_COLUMNS
from pipeline.model import TEXT

Cell = tuple[int, int]  # row and column from 0
Merged = tuple[int, int, int, int]  # first row, first column, last row, last column; rows from 1, columns from 0

ROW = re.compile(rb"<(?:\w+:)?row\b[^>]*>")
COLUMN = re.compile(rb"<(?:\w+:)?col\b[^>]*>")
IS_HIDDEN = re.compile(rb"""\shidden=["'](?:1|true)["']""")
NUMBER = re.compile(rb"""\sr=["'](\d{1,7})["']""")
FROM = re.compile(rb"""\smin=["'](\d{1,7})["']""")
TO = re.compile(rb"""\smax=["'](\d{1,7})["']""")
MERGED = re.compile(rb"""<(?:\w+:)?mergeCell\b[^>]*\sref=["']([A-Z]{1,3})(\d{1,7}):([A-Z]{1,3})(\d{1,7})["']""")
ADDRESS = re.compile(rb"""\sr=["']([A-Z]{1,3})(\d{1,7})["']""")
A_CODE = re.compile(r"\s*(?:[A-Za-z]{1,3}|\d[A-Za-z])[-\s]?\d{2,6}\s*")  # letters, then figures, as a tag's code


class Layout(NamedTuple):
    """Rows from 1 and columns from 0, as in a Sheet; `struck` are cells, row and column from 0."""

    hidden_rows: frozenset[int] = frozenset()
    hidden_columns: frozenset[int] = frozenset()
    struck: frozenset[Cell] = frozenset()
    merged: tuple[Merged, ...] = ()


def layout_of(xml: bytes, struck_styles: Iterable[bytes]) -> Layout:
    """The layout of a sheet of an .xlsx workbook, by patterns over its XML."""
    hides = b"hidden=" in xml
    merged = [
        (int(top), column_number(left), int(bottom), column_number(right))
        for left, top, right, bottom in (MERGED.findall(xml) if b"mergeCell" in xml else ())
    ]
    return Layout(
        frozenset(_hidden_rows(xml)) if hides else frozenset(),
        frozenset(_hidden_columns(xml)) if hides else frozenset(),
        frozenset(_cells_of(xml, struck_styles)),
        tuple(merged),
    )


def column_number(letters: bytes) -> int:
    """The number of a column from 0: A is 0, AA is 26.

    >>> column_number(b"A"), column_number(b"AA")
    (0, 26)
    """
    number = 0
    for letter in letters:
        number = number * 26 + letter - 64
    return number - 1


def _hidden_rows(xml: bytes) -> Iterator[int]:
    at = 0
    for found in ROW.finditer(xml):
        number = NUMBER.search(found[0])
        at = int(number[1]) if number else at + 1
        if IS_HIDDEN.search(found[0]):
            yield at


def _hidden_columns(xml: bytes) -> Iterator[int]:
    for tag in COLUMN.findall(xml):
        first, last = FROM.search(tag), TO.search(tag)
        if first and last and IS_HIDDEN.search(tag):
            yield from range(int(first[1]) - 1, min(int(last[1]), MOST_COLUMNS))


def _cells_of(xml: bytes, styles: Iterable[bytes]) -> Iterator[Cell]:
    wanted = b"|".join(styles)
    if not wanted:
        return
    for tag in re.finditer(rb"""<(?:\w+:)?c\b[^>]*\ss=["'](?:%s)["'][^>]*>""" % wanted, xml):
        address = ADDRESS.search(tag[0])
        if address:
            yield int(address[2]) - 1, column_number(address[1])


def struck_rows(struck: Iterable[Cell], texts: Sequence[Sequence[str]], kinds: Sequence[str]) -> frozenset[int]:
    """The rows, from 1, with a line drawn through most of their filled cells or through what looks like a code."""
    by_row: dict[int, list[int]] = {}
    for row, column in struck:
        if row < len(texts) and column < len(texts[row]) and texts[row][column].strip():
            by_row.setdefault(row, []).append(column)
    return frozenset(
        row + 1
        for row, columns in by_row.items()
        if len(columns) * 2 > sum(1 for text in texts[row] if text.strip())
        or any(kinds[row][column] == TEXT and A_CODE.fullmatch(texts[row][column]) for column in columns)
    )


def within(layout: Layout, rows: int, columns: int) -> Layout:
    """The layout as far as the sheet has cells: a format may go on to the last row and column there is."""
    return Layout(
        frozenset(row for row in layout.hidden_rows if row <= rows),
        frozenset(column for column in layout.hidden_columns if column < columns),
        layout.struck,
        tuple(
            (top, left, min(bottom, rows), min(right, max(columns - 1, left)))
            for top, left, bottom, right in layout.merged
            if top <= rows and left < columns and (bottom > top or right > left)
        ),
    )
