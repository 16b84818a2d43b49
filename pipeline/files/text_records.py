"""Cuts a text table into records and cells, whatever its delimiter, and where its quotation marks are broken too."""

from __future__ import annotations

import csv
import io
import re
from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import islice

from pipeline.files.limits import MOST_ROWS, TooManyCells

DELIMITERS = (",", ";", "\t", "|")
LOOKED_AT = 200  # records by which the delimiter is chosen
LONGEST_CELL = 1_000_000
MOST_LINES = 100  # of one cell: a quotation open for longer was never closed
NAMED_DELIMITER = re.compile(r"\"?sep=(.)\"?(?:\r\n?|\n|$)", re.IGNORECASE)
LINE = re.compile(r"[^\r\n]*(?:\r\n|\r|\n|\Z)")

Records = list[list[str]]


def records(text: str) -> Records:
    """The records of a text table, the first being row 1; a blank line is a record without cells.

    A quoted cell with line breaks is one row, as a spreadsheet program would show it.
    """
    csv.field_size_limit(LONGEST_CELL)
    named = NAMED_DELIMITER.match(text)
    if named:  # the program that wrote this line takes it as a hint and shows it to nobody
        return _parsed(text[named.end() :], named[1])
    start = _start(text)
    delimiter = max(DELIMITERS, key=lambda sign: _evenness(_parsed(start, sign, LOOKED_AT)))
    return _parsed(text, delimiter)


def _start(text: str) -> str:
    """As much of the text as the delimiter is chosen by."""
    if len(text) <= LONGEST_CELL:
        return text
    return text[: text.rfind("\n", 0, LONGEST_CELL) + 1] or text[:LONGEST_CELL]


def _evenness(found: Records) -> tuple[int, int]:
    """How many records are cut into the same number of cells (two or more), and how many cells that is."""
    widths = Counter(len(record) for record in found if len(record) > 1)
    return max(((times, width) for width, times in widths.items()), default=(0, 0))


def _parsed(text: str, delimiter: str, most: int | None = None) -> Records:
    """By the rules of quotation; where they are broken, line by line, so that one slip costs one row."""
    try:
        found = _counted(islice(csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True), most))
        has_long_cells = '"' in text and len(found) < max(text.count("\n"), text.count("\r"))
        if not has_long_cells or not _has_swallowed(found, delimiter):
            return found
    except csv.Error:
        pass
    return _counted(islice(_line_by_line(LINE.findall(text)[:-1], delimiter), most))


def _counted(found: Iterator[list[str]]) -> Records:
    """The records up to the limit; rows of nothing may go on for ever."""
    kept: Records = []
    for record in found:
        if len(kept) < MOST_ROWS:
            kept.append(record)
        elif any(record):
            raise TooManyCells
    return kept


def _has_swallowed(found: Records, delimiter: str) -> bool:
    width = _evenness(found)[1]
    return width > 1 and any(_swallows(record, delimiter, width) for record in found)


def _swallows(record: Sequence[str], delimiter: str, width: int) -> bool:
    """Whether a cell seems to hold whole records: two slips in quotation look like one long cell.

    Each of its lines then has all delimiters of a record, and begins as this record does.
    """
    for cell in record:
        lines = [line for line in cell.splitlines()[1:] if line]
        if lines and all(line.count(delimiter) >= width - 1 for line in lines):
            is_wide = width > 4 or len(record) != width
            if is_wide or all(_shape(line.split(delimiter)[0]) == _shape(record[0]) for line in lines):
                return True
    return False


def _shape(text: str) -> str:
    return re.sub(r"[^\W\d_]+", "a", re.sub(r"\d+", "0", text.strip()))


def _line_by_line(lines: Sequence[str], delimiter: str) -> Iterator[list[str]]:
    """A record for each line; lines are joined where a quotation that opens on one closes properly on another."""
    width = _evenness([_alone(line, delimiter) for line in lines[: LOOKED_AT * 10]])[1]
    at = 0
    while at < len(lines):
        end = _closes_at(lines, at)
        record = _strictly("".join(lines[at:end]), delimiter) if end else None
        is_whole = record is not None and len(record) == width and not _swallows(record, delimiter, width)
        if record is not None and (end == at + 1 or is_whole):
            yield record
            at = end
        else:
            yield _alone(lines[at], delimiter)
            at += 1


def _closes_at(lines: Sequence[str], at: int) -> int:
    """The line behind the first with which the quotation marks come in pairs; 0 if there is none near."""
    marks = 0
    for number in range(at, min(at + MOST_LINES, len(lines))):
        marks += lines[number].count('"')
        if marks % 2 == 0:
            return number + 1
    return 0


def _strictly(text: str, delimiter: str) -> list[str] | None:
    try:
        found = list(csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True))
    except csv.Error:
        return None
    return found[0] if len(found) == 1 else None


def _alone(line: str, delimiter: str) -> list[str]:
    """A line as a record by itself, with the quotation marks that are broken as typed."""
    record = _strictly(line, delimiter)
    if record is not None:
        return record
    line = line.rstrip("\r\n")
    loosely = next(csv.reader([line + delimiter + "\x1e"], delimiter=delimiter), [])
    if loosely[-1:] == ["\x1e"]:  # every quotation on the line was closed
        return loosely[:-1]
    return line.split(delimiter)
