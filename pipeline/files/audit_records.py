"""Reads a table's records in pieces, each column of text with its different values once."""

from __future__ import annotations

import csv
import io
from collections import deque
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import islice
from pathlib import Path
from typing import IO

import pyarrow as pa
import pyarrow.csv as pacsv

from pipeline.audit.columns import Column
from pipeline.files.audit_form import ID, Form
from pipeline.files.text_records import MOST_LINES

MOST = 100_000  # records of a piece
MOST_BYTES = 1 << 27
BLOCK_BYTES = 1 << 20  # read at a time: many are read ahead
LONGEST_LINE = 1 << 24  # characters
END = "\x1e"  # set behind a line, to see whether every quotation on it was closed
CODED = pa.dictionary(pa.int32(), pa.string())


@dataclass(frozen=True)
class Piece:
    """Some records that follow each other: the number of the first, and a column for each term."""

    first: int
    table: pa.Table
    uneven: int = 0  # records with more or fewer cells than there are headings


def pieces(files: Sequence[Path], form: Form, most: int = MOST) -> Iterator[Piece]:
    """All records of the files, numbered from 1."""
    first = 1
    for file in files:
        for piece in _gathered(_batches(file, form, most), most):
            yield Piece(first, piece.table, piece.uneven)
            first += piece.table.num_rows


def columns(table: pa.Table, form: Form) -> dict[str, Column]:
    """The columns of a piece, what is empty filled with what the descriptor says stands for it."""
    known = {term: _column(table[term], form.defaults.get(term, "")) for term in form.places}
    fixed = {term: text for term, text in form.defaults.items() if term not in form.places}
    return known | {term: Column.of_one(text, table.num_rows) for term, text in fixed.items()}


def _column(cells: pa.ChunkedArray, default: str) -> Column:
    whole = cells.unify_dictionaries().combine_chunks()
    values = whole.dictionary.to_pylist()
    return Column([value or default for value in values], whole.indices.to_numpy().astype("int64"))


def _gathered(batches: Iterator[Piece], most: int) -> Iterator[Piece]:
    """Small pieces together, up to about so many records or bytes."""
    waiting: list[Piece] = []
    rows, size = 0, 0
    for batch in batches:
        waiting.append(batch)
        rows, size = rows + batch.table.num_rows, size + batch.table.nbytes
        if rows >= most or size >= MOST_BYTES:
            yield _together(waiting)
            waiting, rows, size = [], 0, 0
    if waiting:
        yield _together(waiting)


def _together(waiting: list[Piece]) -> Piece:
    return Piece(1, pa.concat_tables([each.table for each in waiting]), sum(each.uneven for each in waiting))


def _batches(file: Path, form: Form, most: int) -> Iterator[Piece]:
    """By the fast reader; from the first record on that does not fit the headings, line by line."""
    done = 0
    if (form.delimiter + form.quote).isascii():
        try:
            for piece in _fast(file, form):
                if piece.num_rows:
                    yield Piece(1, piece)
                done += piece.num_rows
            return
        except pa.ArrowInvalid:
            pass
    with file.open(encoding="utf-8-sig", newline="") as text:
        records = islice(_line_by_line(text, form), done, None)
        while some := list(islice(records, min(most, 20_000))):
            yield _as_piece(some, form)


def _fast(file: Path, form: Form) -> Iterator[pa.Table]:
    names = [str(place) for place in range(form.width)]
    used = [str(place) for place in form.places.values()] or names[:1]
    with pacsv.open_csv(
        file,
        read_options=pacsv.ReadOptions(column_names=names, skip_rows_after_names=form.skipped, block_size=BLOCK_BYTES),
        parse_options=pacsv.ParseOptions(
            delimiter=form.delimiter, quote_char=form.quote or False, newlines_in_values=bool(form.quote)
        ),
        convert_options=pacsv.ConvertOptions(
            include_columns=used,
            column_types=dict.fromkeys(used, CODED),
            strings_can_be_null=False,
            quoted_strings_can_be_null=False,
        ),
    ) as reader:
        for batch in reader:
            yield pa.Table.from_batches([batch]).rename_columns(list(form.places) or [ID])


def _as_piece(records: Sequence[Sequence[str]], form: Form) -> Piece:
    """Records of any width: what is missing at the end is blank, what stands beyond the headings is left off."""
    cells = {
        term: pa.array([record[place] if place < len(record) else "" for record in records]).dictionary_encode()
        for term, place in (form.places or {ID: 0}).items()
    }
    return Piece(1, pa.table(cells), sum(len(record) != form.width for record in records))


def _line_by_line(text: IO[str], form: Form) -> Iterator[list[str]]:
    """A record for each line that is not blank; lines are joined where a quotation closes properly on a later one."""
    every = iter(lambda: text.readline(LONGEST_LINE), "")
    for _ in range(form.skipped):
        marks = next(every, "").count(form.quote) if form.quote else 0
        while marks % 2 and (more := next(every, "")):
            marks += more.count(form.quote)
    lines = filter(lambda line: line.strip("\r\n"), every)
    ahead: deque[str] = deque()
    while line := ahead.popleft() if ahead else next(lines, ""):
        if not form.quote or form.quote not in line:
            yield line.rstrip("\r\n").split(form.delimiter)
            continue
        joined = _joined(line, ahead, lines, form)
        yield joined or _alone(line, form)


def _joined(line: str, ahead: deque[str], lines: Iterator[str], form: Form) -> list[str] | None:
    """The record of several lines that begins here; None where the first is one by itself. Takes the others away."""
    marks, number = line.count(form.quote), 0
    while marks % 2 and number < MOST_LINES:
        if number == len(ahead):
            if not (following := next(lines, "")):
                return None
            ahead.append(following)
        marks += ahead[number].count(form.quote)
        number += 1
    if not number or marks % 2:
        return None
    record = _strictly(line + "".join(islice(ahead, number)), form)
    if record is None or len(record) != form.width:
        return None
    for _ in range(number):
        ahead.popleft()
    return record


def _strictly(text: str, form: Form) -> list[str] | None:
    """The record that a text is, None where it is several or its quotation is broken."""
    try:
        found = list(
            csv.reader(io.StringIO(text, newline=""), delimiter=form.delimiter, quotechar=form.quote, strict=True)
        )
    except csv.Error:
        return None
    return found[0] if len(found) == 1 else None


def _alone(line: str, form: Form) -> list[str]:
    """A line by itself; a quotation that does not close on it is a mark like any other."""
    line = line.rstrip("\r\n")
    loosely = next(csv.reader([f"{line}{form.delimiter}{END}"], delimiter=form.delimiter, quotechar=form.quote), [])
    return loosely[:-1] if loosely[-1:] == [END] else line.split(form.delimiter)
