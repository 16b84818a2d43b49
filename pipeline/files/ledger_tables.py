"""The coordinator's CSV files: the whole ledger as of now, read and written piece by piece."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Callable, Iterable, Sequence
from concurrent.futures import ProcessPoolExecutor
from contextlib import closing
from functools import partial
from multiprocessing import get_context
from pathlib import Path
from typing import Any

import pandas as pd

from pipeline.files.csv_files import csv_file, write_csv, write_csv_pieces
from pipeline.files.intake import natural_order
from pipeline.files.ledger import LIVE, frame
from pipeline.files.ledger_rows import write_rows
from pipeline.files.outbox import unless_held_open
from pipeline.frames import letter
from pipeline.model import Table

APART_ROWS = 300_000  # below, a second process costs more than it gives
FINDING_COLUMNS = [
    "person_id", "file", "sheet", "row", "column", "field", "rule", "severity", "seen", "suggestion", "message",
    "state",
]  # fmt: skip
CHANGE_COLUMNS = ["person_id", "file", "sheet", "row", "column", "field", "seen", "became", "why"]
SHEET_COLUMNS = [
    "person_id", "file", "sheet", "table", "heading_row", "first_column", "last_column", "rows_read", "file_sha256",
]  # fmt: skip
FIND_COLUMNS = [
    "find_occurrence_id", "release_occurrence_id", "tag", "km", "bearing_degrees", "days", "days_min", "days_max",
    "km_per_day", "kind", "state", "find_file", "find_sheet", "find_row", "release_file", "release_sheet",
    "release_row",
]  # fmt: skip
ANSWER_COLUMNS = ["person_id", "file", "sheet", "row", "ref", "typed", "value", "why", "outcome"]


def write_tables(folder: Path, ledger: sqlite3.Connection, letters: pd.DataFrame) -> list[str]:
    """Writes findings.csv, changes.csv, rows.csv, sheets.csv, origin.csv, finds.csv, answers.csv and letters.csv.

    Returns the paths that another program holds open, which then keep what they said before.
    """
    folder.mkdir(parents=True, exist_ok=True)
    files = _files_in_order(ledger)
    pieces: dict[str, Callable[[], Iterable[pd.DataFrame]]] = {
        "findings.csv": lambda: [_findings(ledger)],
        "sheets.csv": lambda: [_sheets(ledger)],
        "finds.csv": lambda: [_finds(ledger)],
        "answers.csv": lambda: [_answers(ledger)],
    }
    stuck = _rows_and_changes(folder, ledger, files)
    for name, of_file in pieces.items():
        stuck += unless_held_open(folder / name, partial(_write, pieces=of_file))
    return stuck + unless_held_open(folder / "letters.csv", partial(write_csv, frame=letters, guarded=True))


def _write(path: Path, pieces: Callable[[], Iterable[pd.DataFrame]]) -> None:
    write_csv_pieces(path, pieces(), guarded=True)


def _files_in_order(ledger: sqlite3.Connection) -> list[str]:
    """Every path that has rows, in the order of a reader."""
    return sorted((file for (file,) in ledger.execute("SELECT DISTINCT file FROM rows")), key=natural_order)


def _findings(ledger: sqlite3.Connection) -> pd.DataFrame:
    names = ", ".join(f'"{name}"' for name in FINDING_COLUMNS)
    found = _sorted(frame(ledger, f"SELECT {names} FROM findings"), ["sheet", "row", "column", "rule"])
    return found.assign(row=_number(found["row"]))


def _rows_and_changes(folder: Path, ledger: sqlite3.Connection, files: Sequence[str]) -> list[str]:
    """The two long files; of a large ledger each in a process of its own, for both are read from what is settled."""
    path = ledger.execute("PRAGMA database_list").fetchone()[2]
    size = ledger.execute("SELECT max(rowid) FROM rows").fetchone()[0] or 0
    if size < APART_ROWS or not path:
        return [*write_rows(folder, ledger, files), *write_changes(folder, ledger, files)]
    with ProcessPoolExecutor(1, mp_context=get_context("spawn")) as helper:
        changes = helper.submit(changes_apart, Path(path), folder)
        stuck = write_rows(folder, ledger, files)
        return [*stuck, *changes.result()]


def changes_apart(path: Path, folder: Path) -> list[str]:
    """Writes changes.csv from a ledger that is only read."""
    with closing(sqlite3.connect(path)) as ledger:
        return write_changes(folder, ledger, _files_in_order(ledger))


def write_changes(folder: Path, ledger: sqlite3.Connection, files: Sequence[str]) -> list[str]:
    """Writes changes.csv, the paths of `files` in their order; within a file the changes are kept in order."""
    path = folder / "changes.csv"
    with csv_file(path, CHANGE_COLUMNS) as changes:
        for file in files:
            kept = ledger.execute("SELECT lines FROM changes WHERE file = ? ORDER BY file_sha256", (file,))
            for (lines,) in kept.fetchall():
                told: dict[str, list[str]] = json.loads(lines)
                told["file"] = [file] * len(told["row"])
                changes.add([told[name] for name in CHANGE_COLUMNS])
    return unless_held_open(path, lambda _: changes.place())


def _sheets(ledger: sqlite3.Connection) -> pd.DataFrame:
    """A line for each table that was found, in copies too: where it stands and how many of its rows were read."""
    tables: dict[str, list[list[str]]] = {}
    for sha256, line in ledger.execute("SELECT file_sha256, line FROM tables ORDER BY file_sha256, number"):
        tables.setdefault(sha256, []).append(json.loads(line))
    files = ledger.execute(f"SELECT file, sha256 FROM files WHERE {LIVE} ORDER BY copy_of != '', file_id")
    lines = [(person, file, *rest, sha256) for file, sha256 in files for person, *rest in tables.get(sha256, [])]
    return pd.DataFrame(lines, columns=SHEET_COLUMNS, dtype="str")


def _finds(ledger: sqlite3.Connection) -> pd.DataFrame:
    lines = [json.loads(line) for (line,) in ledger.execute("SELECT line FROM finds")]
    lines.sort(key=lambda one: (natural_order(one["find_file"]), one["find_sheet"], int(one["find_row"])))
    return pd.DataFrame(lines, columns=FIND_COLUMNS, dtype="str").fillna("")


def _answers(ledger: sqlite3.Connection) -> pd.DataFrame:
    names = ", ".join(ANSWER_COLUMNS)
    answers = frame(ledger, f"SELECT {names} FROM answer_lines WHERE {LIVE} ORDER BY rowid")
    return answers.assign(row=_number(answers["row"]))


def _number(rows: pd.Series) -> pd.Series:
    """Row numbers as text; no row is blank, not 0."""
    return _each(lambda row: str(row) if row else "", rows)


def _each(says: Callable[[Any], str], values: pd.Series) -> pd.Series:
    """What is said of each value, each different one asked once."""
    codes, unique = pd.factorize(values)
    return pd.Series([says(value) for value in unique], dtype="str").take(codes).set_axis(values.index)


def _sorted(table: pd.DataFrame, by: list[str]) -> pd.DataFrame:
    """In the order of a reader: files in natural order, then as `by` says."""
    names = {file: place for place, file in enumerate(sorted(table["file"].unique(), key=natural_order))}
    keys = {"file": table["file"].map(names).astype("int64")}
    keys |= {name: table[name] if name == "row" else pd.Series(pd.factorize(table[name], sort=True)[0]) for name in by}
    order = pd.DataFrame({name: column.to_numpy() for name, column in keys.items()})
    return table.iloc[order.sort_values(list(keys), kind="stable").index]


def table_lines(tables: Sequence[Table], rows_read: dict[int, int], senders: dict[str, str]) -> pd.DataFrame:
    """The lines of sheets.csv as the ledger keeps them: a line a table; `senders` by SHA-256."""
    lines = []
    count: dict[str, int] = {}
    for number, table in enumerate(tables):
        sheet, columns = table.sheet, [heading.column for heading in table.headings]
        count[sheet.file_sha256] = count.get(sheet.file_sha256, 0) + 1
        line = [
            senders.get(sheet.file_sha256, ""), sheet.name, str(table.number), str(table.heading_row),
            letter(min(columns)), letter(max(columns)), str(rows_read.get(number, 0) + len(table.left_out)),
        ]  # fmt: skip
        lines.append((sheet.file_sha256, count[sheet.file_sha256], json.dumps(line)))
    return pd.DataFrame(lines, columns=["file_sha256", "number", "line"])
