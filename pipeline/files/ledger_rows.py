"""rows.csv and origin.csv: every row of the ledger, read once and written piece by piece."""

from __future__ import annotations

import sqlite3
from collections.abc import Sequence
from contextlib import ExitStack
from pathlib import Path

from pipeline.files.csv_files import CsvFile, csv_file
from pipeline.files.outbox import unless_held_open

ROW_COLUMNS = ["person_id", "file", "sheet", "row", "state", "reason", "occurrence_id", "part", "file_sha256"]
ORIGIN_COLUMNS = ["occurrenceID", "batch_id", "file", "sheet", "row", "file_sha256"]
# An id is told of a row that is published, waits or was withdrawn; no row is blank, not 0.
_SHOWN = """
    SELECT person_id, file, sheet, iif(row, CAST(row AS TEXT), ''), state, reason,
        iif(state IN ('clear', 'held', 'withdrawn'), occurrence_id, ''), part, file_sha256,
        occurrence_id, batch_id, digest
    FROM rows WHERE file = ? ORDER BY file_sha256, sheet, row, part
"""


def write_rows(folder: Path, ledger: sqlite3.Connection, files: Sequence[str]) -> list[str]:
    """Writes both files, the paths of `files` in their order; returns those that another program holds open."""
    with ExitStack() as stack:
        rows = stack.enter_context(csv_file(folder / "rows.csv", ROW_COLUMNS))
        origin = stack.enter_context(csv_file(folder / "origin.csv", ORIGIN_COLUMNS))
        for file in files:
            lines = ledger.execute(_SHOWN, (file,)).fetchall()
            rows.add(list(zip(*lines, strict=True))[:9] if lines else [()] * 9)
            # Most files are published whole: their columns are used as they are.
            told = lines if all(line[11] for line in lines) else [line for line in lines if line[11]]
            columns = list(zip(*told, strict=True)) if told else [()] * 12
            origin.add([columns[place] for place in (9, 10, 1, 2, 3, 8)])
    return [stuck for file in (rows, origin) for stuck in _placed(file)]


def _placed(file: CsvFile) -> list[str]:
    return unless_held_open(file.path, lambda _: file.place())
