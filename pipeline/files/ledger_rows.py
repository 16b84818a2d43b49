"""rows.csv and origin.csv: every row of the ledger, read once and written piece by piece."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable, Iterator, Sequence
from contextlib import ExitStack
from pathlib import Path

from pipeline.files.csv_files import CsvFile, csv_file
from pipeline.files.outbox import unless_held_open

PIECE = 50_000  # lines at a time
ROW_COLUMNS = ["person_id", "file", "sheet", "row", "state", "reason", "occurrence_id", "part", "file_sha256"]
ORIGIN_COLUMNS = ["occurrenceID", "batch_id", "file", "sheet", "row", "file_sha256"]
# An id is told of a row that is published, waits or was withdrawn; no row is blank, not 0.
_SHOWN = """
    SELECT person_id, file, sheet, iif(row, row, ''), state, reason,
        iif(state IN ('clear', 'held', 'withdrawn'), occurrence_id, ''), part, file_sha256,
        occurrence_id, batch_id, digest
    FROM rows WHERE file = ? ORDER BY file_sha256, sheet, row, part
"""
Line = tuple[str, ...]


def write_rows(folder: Path, ledger: sqlite3.Connection, files: Sequence[str]) -> list[str]:
    """Writes both files, the paths of `files` in their order; returns those that another program holds open."""
    with ExitStack() as stack:
        rows = stack.enter_context(csv_file(folder / "rows.csv", ROW_COLUMNS))
        origin = stack.enter_context(csv_file(folder / "origin.csv", ORIGIN_COLUMNS))
        for piece in _pieces(ledger, files):
            rows.write([line[:9] for line in piece])
            origin.write([(line[9], line[10], *line[1:4], line[8]) for line in piece if line[11]])
    return [stuck for file in (rows, origin) for stuck in _placed(file)]


def _placed(file: CsvFile) -> list[str]:
    return unless_held_open(file.path, lambda _: file.place())


def _pieces(ledger: sqlite3.Connection, files: Iterable[str]) -> Iterator[list[Line]]:
    piece: list[Line] = []
    for file in files:
        piece += ledger.execute(_SHOWN, (file,)).fetchall()
        if len(piece) >= PIECE:
            yield piece
            piece = []
    yield piece
