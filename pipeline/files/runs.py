"""What the ledger remembers of runs and files: the last run, and every file that counts, as read."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Sequence
from dataclasses import asdict, dataclass, field
from datetime import date

import pandas as pd

from pipeline.figures import Figures
from pipeline.files.ledger import LIVE, frame, kept_sheets
from pipeline.files.recall import remembered
from pipeline.model import FileRead
from pipeline.remembered import Remembered


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
    """Every file that is looked at, when it was first seen (by SHA-256), which paths are copies of which.

    A path may have held several files one after the other: each of them is here.
    """

    reads: tuple[FileRead, ...]
    received: dict[str, pd.Timestamp]
    copies: dict[str, str]
    remembered: Remembered = field(default_factory=Remembered)


def last_run(ledger: sqlite3.Connection) -> Run | None:
    """The last run, or None before the first."""
    line = ledger.execute("SELECT run, today, mark, figures, exit_code FROM runs ORDER BY run DESC LIMIT 1").fetchone()
    if line is None:
        return None
    return Run(line[0], date.fromisoformat(line[1]), line[2], Figures(**json.loads(line[3])), line[4])


def last_run_with(ledger: sqlite3.Connection, mark: str) -> int:
    """The number of the last run, if every run since the ledger was last looked at as a whole had this mark, else 0.

    What is changed by hand has no mark, and bears only on what it is about.
    """
    line = ledger.execute("SELECT run, mark FROM runs WHERE mark != '' ORDER BY run DESC LIMIT 1").fetchone()
    return int(line[0]) if line and line[1] == mark else 0


def next_run(ledger: sqlite3.Connection) -> int:
    """The number of the run at work."""
    return int(ledger.execute("SELECT coalesce(max(run), 0) + 1 FROM runs").fetchone()[0])


def keep_run(ledger: sqlite3.Connection, run: Run) -> None:
    """Writes the run down, last of all."""
    figures = json.dumps(asdict(run.figures))
    line = (run.run, run.today.isoformat(), run.mark, figures, run.exit_code)
    ledger.execute("INSERT INTO runs VALUES (?, ?, ?, ?, ?)", line)


def everything_that_came(ledger: sqlite3.Connection, new: Sequence[FileRead], scope: frozenset[str] | None) -> Came:
    """The files whose SHA-256 is in `scope` (all of them for None): the new ones as just read, the others as kept."""
    files = frame(ledger, f"SELECT * FROM files WHERE {LIVE} ORDER BY file_id")
    if scope is not None:
        files = files[files["sha256"].isin(scope)]
    fresh = {read.file_sha256: read for read in new}
    firsts = files[files["copy_of"] == ""].drop_duplicates("sha256", keep="last")
    older = {sha256: file for file, sha256 in firsts[["file", "sha256"]].itertuples(index=False) if sha256 not in fresh}
    sheets = kept_sheets(ledger, older)
    names = ["file", "sha256", "refusal", "what"]
    reads = tuple(
        fresh.get(sha256) or FileRead(file, sha256, sheets.get(sha256, ()), refusal, what)
        for file, sha256, refusal, what in firsts[names].itertuples(index=False)
    )
    copies = files[(files["copy_of"] != "") & (files["replaced_by"] == "")]
    first_seen = files.drop_duplicates("sha256")
    days = pd.to_datetime(first_seen["received"]).astype("datetime64[s]")
    return Came(
        reads + tuple(FileRead(file, sha256) for file, sha256 in copies[["file", "sha256"]].itertuples(index=False)),
        dict(zip(first_seen["sha256"], days, strict=True)),
        dict(zip(copies["file"], copies["copy_of"], strict=True)),
        remembered(ledger, scope),
    )
