"""The ledger: everything ever read, found and published, in one SQLite file and one transaction a run."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterable, Mapping, Sequence
from contextlib import ExitStack, closing
from pathlib import Path
from typing import Any

import pandas as pd

from pipeline.files.ledger_schema import NEWEST, bring_forward
from pipeline.model import FileRead, Sheet

LIVE = "run NOT IN (SELECT run FROM undone)"  # what no `undo` took back
NAME = "programme/ledger.sqlite"
# How the database says that the disk, the file or another process is at fault, not what we asked of it.
NOT_OURS = ("BUSY", "CANTOPEN", "CORRUPT", "FULL", "IOERR", "LOCKED", "NOTADB", "PERM", "READONLY")


class LedgerUnusable(Exception):
    """The ledger cannot be used now; its words say what to do."""


def open_ledger(path: Path, programme_id: str, is_trial: bool = False) -> sqlite3.Connection:
    """The ledger, locked for this run until commit or rollback; a new one is made where there is none.

    A trial works on a copy in memory and leaves the file as it was.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    with ExitStack() as if_refused:
        try:
            ledger = _copy_in_memory(path) if is_trial else sqlite3.connect(path, isolation_level=None, timeout=2.0)
            if_refused.enter_context(closing(ledger))
            ledger.execute("BEGIN IMMEDIATE")
            _check(ledger, programme_id)
        except sqlite3.DatabaseError as fault:
            raise LedgerUnusable(_in_words(str(fault))) from fault
        if_refused.pop_all()  # the lock is the run's from here on
    return ledger


def _copy_in_memory(path: Path) -> sqlite3.Connection:
    copy = sqlite3.connect(":memory:", isolation_level=None)
    if path.is_file():
        with closing(sqlite3.connect(path, timeout=2.0)) as ledger:
            ledger.backup(copy)
    return copy


def disk_in_words(fault: Exception) -> str:
    """What to do about a fault of the disk, or of the file that the ledger lies in; "" for any other."""
    kind = getattr(fault, "sqlite_errorname", "").removeprefix("SQLITE_")
    is_damaged_text = str(fault).startswith("Could not decode")
    return _in_words(str(fault)) if kind.startswith(NOT_OURS) or is_damaged_text else ""


def _in_words(fault: str) -> str:
    if "locked" in fault:
        return f"Another run is at work on {NAME}. Wait until it has ended, then try again."
    if "readonly" in fault or "unable to open" in fault:
        return f"{NAME} cannot be written. Is the folder read-only, or open elsewhere?"
    if "full" in fault or "I/O" in fault:  # a used up quota shows as the latter
        return f"The disk is full, so {NAME} cannot be written. Make room, then run again: nothing is lost."
    return f"{NAME} is not a ledger of ours, or it is damaged ({fault}). Put back a copy of it, then run again."


def _check(ledger: sqlite3.Connection, programme_id: str) -> None:
    if not ledger.execute("SELECT name FROM sqlite_master LIMIT 1").fetchone():
        bring_forward(ledger, 0)
        ledger.execute("INSERT INTO about VALUES (?, ?)", (NEWEST, programme_id))
    version, owner = ledger.execute("SELECT schema_version, programme_id FROM about").fetchone()
    if version > NEWEST:
        raise LedgerUnusable("This ledger was written by a newer tagsheaf. Install that version, then run again.")
    if owner != programme_id:
        raise LedgerUnusable(
            f"This ledger belongs to the programme {owner!r}, but programme.toml says {programme_id!r}. "
            "The id is part of every identifier: put it back."
        )
    ledger.execute("UPDATE about SET schema_version = 0")  # what cannot be written is told now, before any reading
    bring_forward(ledger, version)


def frame(ledger: sqlite3.Connection, query: str, values: Sequence[Any] = ()) -> pd.DataFrame:
    """The lines that a query gives, texts as text."""
    cursor = ledger.execute(query, values)
    names = [column[0] for column in cursor.description]
    lines = cursor.fetchall()
    columns = list(zip(*lines, strict=True)) or [()] * len(names)
    return pd.DataFrame(
        {name: pd.Series(cells, dtype=_dtype(cells)) for name, cells in zip(names, columns, strict=True)}
    )


def _dtype(cells: Sequence[Any]) -> str:
    return "int64" if cells and isinstance(cells[0], int) else "str"


def insert(ledger: sqlite3.Connection, table: str, lines: pd.DataFrame) -> None:
    """Adds lines to a table, columns by name; a line with the same key takes the place of the older."""
    if not len(lines):
        return
    names = ", ".join(f'"{name}"' for name in lines.columns)
    marks = ", ".join("?" * len(lines.columns))
    columns = [lines[name].tolist() for name in lines.columns]
    ledger.executemany(f"INSERT OR REPLACE INTO {table} ({names}) VALUES ({marks})", zip(*columns, strict=True))


def look_at(ledger: sqlite3.Connection, shas: Iterable[str]) -> None:
    """Notes for this connection which files, by SHA-256, the run looks at: the table looked_at."""
    ledger.execute("CREATE TEMP TABLE IF NOT EXISTS looked_at (sha256 TEXT PRIMARY KEY) WITHOUT ROWID")
    ledger.execute("DELETE FROM looked_at")
    ledger.executemany("INSERT OR IGNORE INTO looked_at VALUES (?)", ((sha256,) for sha256 in shas))


def add(ledger: sqlite3.Connection, table: str, line: Mapping[str, Any]) -> None:
    """Adds one line to a table, columns by name."""
    names = ", ".join(f'"{name}"' for name in line)
    ledger.execute(f"INSERT INTO {table} ({names}) VALUES ({', '.join('?' * len(line))})", tuple(line.values()))


def keep_cells(ledger: sqlite3.Connection, reads: Iterable[FileRead]) -> None:
    """Keeps every cell as read, a line a sheet with its rows as JSON; two names of the same bytes share their cells."""
    ledger.executemany(
        "INSERT OR IGNORE INTO cells VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
        (
            (
                sheet.file_sha256,
                number,
                sheet.name,
                sheet.is_hidden,
                json.dumps(sorted(sheet.hidden_rows)),
                json.dumps(sheet.kinds),
                json.dumps(sheet.texts, ensure_ascii=False),
                _layout(sheet),
            )
            for read in reads
            for number, sheet in enumerate(read.sheets)
        ),
    )


def kept_sheets(ledger: sqlite3.Connection, files: Mapping[str, str]) -> dict[str, tuple[Sheet, ...]]:
    """The sheets of known files by SHA-256, as they were read; `files` maps SHA-256 to path."""
    sheets: dict[str, tuple[Sheet, ...]] = {}
    for sha256, file in files.items():
        kept = ledger.execute("SELECT * FROM cells WHERE sha256 = ? ORDER BY sheet_number", (sha256,))
        sheets[sha256] = tuple(
            Sheet(
                file=file,
                file_sha256=sha256,
                name=name,
                texts=tuple(map(tuple, json.loads(texts))),
                kinds=tuple(json.loads(kinds)),
                hidden_rows=frozenset(json.loads(hidden_rows)),
                is_hidden=bool(is_hidden),
                **_laid_out(layout),
            )
            for _, _, name, is_hidden, hidden_rows, kinds, texts, layout in kept
        )
    return sheets


def _layout(sheet: Sheet) -> str:
    """What a sheet says beside its cells; "" for an ordinary one."""
    if not (sheet.hidden_columns or sheet.struck_rows or sheet.merged):
        return ""
    return json.dumps([sorted(sheet.hidden_columns), sorted(sheet.struck_rows), sheet.merged])


def _laid_out(layout: str) -> dict[str, Any]:
    if not layout:
        return {}
    columns, rows, merged = json.loads(layout)
    names = ("hidden_columns", "struck_rows", "merged")
    return dict(zip(names, (frozenset(columns), frozenset(rows), tuple(map(tuple, merged))), strict=True))


def next_batch_id(ledger: sqlite3.Connection, season: str, at_portal: Iterable[str] = ()) -> str:
    """The season's label and a number that counts up: the id of the next batch.

    What lies `at_portal` is never written again, though a ledger that was put back from a copy may not know it.
    """
    known = [batch_id for (batch_id,) in ledger.execute("SELECT batch_id FROM batches")]
    parts = (batch_id.rpartition("-") for batch_id in (*known, *at_portal))
    numbers = [int(number) for label, _, number in parts if label == season and number.isdecimal()]
    return f"{season}-{max(numbers, default=0) + 1:04d}"
