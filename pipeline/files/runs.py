"""What the ledger remembers of runs and files: the last run, and every file that counts, as read."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Sequence
from dataclasses import asdict, dataclass
from datetime import date

import pandas as pd

from pipeline.figures import Figures
from pipeline.files.ledger import frame, kept_sheets
from pipeline.model import FileRead


@dataclass(frozen=True)
class Run:
    """A run as the ledger keeps it; `mark` tells settings, lists, rules and day apart from any others."""

    run: int
    today: date
    mark: str
    figures: Figures
    exit_code: int


@dataclass(frozen=True)
class Came:
    """Every file that counts, when it was first seen, and which are copies of which."""

    reads: tuple[FileRead, ...]
    received: dict[str, pd.Timestamp]
    copies: dict[str, str]


def last_run(ledger: sqlite3.Connection) -> Run | None:
    """The last run, or None before the first."""
    line = ledger.execute("SELECT run, today, mark, figures, exit_code FROM runs ORDER BY run DESC LIMIT 1").fetchone()
    if line is None:
        return None
    return Run(line[0], date.fromisoformat(line[1]), line[2], Figures(**json.loads(line[3])), line[4])


def next_run(ledger: sqlite3.Connection) -> int:
    """The number of the run at work."""
    return int(ledger.execute("SELECT coalesce(max(run), 0) + 1 FROM runs").fetchone()[0])


def keep_run(ledger: sqlite3.Connection, run: Run) -> None:
    """Writes the run down, last of all."""
    figures = json.dumps(asdict(run.figures))
    line = (run.run, run.today.isoformat(), run.mark, figures, run.exit_code)
    ledger.execute("INSERT INTO runs VALUES (?, ?, ?, ?, ?)", line)


def everything_that_came(ledger: sqlite3.Connection, new: Sequence[FileRead]) -> Came:
    """Every file that is not replaced: the new ones as just read, the others as the ledger kept them."""
    files = frame(ledger, "SELECT * FROM files WHERE replaced_by = '' ORDER BY file_id")
    fresh = {(read.file, read.file_sha256): read for read in new}
    firsts = files[files["copy_of"] == ""]
    older = {
        sha256: file
        for file, sha256 in firsts[["file", "sha256"]].itertuples(index=False)
        if (file, sha256) not in fresh
    }
    sheets = kept_sheets(ledger, older)
    names = ["file", "sha256", "refusal", "what"]
    reads = tuple(
        fresh.get((file, sha256)) or FileRead(file, sha256, sheets.get(sha256, ()), refusal, what)
        for file, sha256, refusal, what in firsts[names].itertuples(index=False)
    )
    copies = files[files["copy_of"] != ""]
    days = pd.to_datetime(files["received"]).astype("datetime64[s]")
    return Came(
        reads + tuple(FileRead(file, sha256) for file, sha256 in copies[["file", "sha256"]].itertuples(index=False)),
        dict(zip(files["file"], days, strict=True)),
        dict(zip(copies["file"], copies["copy_of"], strict=True)),
    )
