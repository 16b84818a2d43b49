"""Writes the outbox: the coordinator's files, everybody's letters, the batch moved to the portal, a stamp last."""

from __future__ import annotations

import shutil
import sqlite3
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import numpy as np
import pandas as pd

from pipeline.files.csv_files import write_csv
from pipeline.files.intake import natural_order
from pipeline.frames import letter
from pipeline.model import Table

STAMP = "stamp.txt"
STAGING = ".staging"
FINDING_COLUMNS = [
    "person_id", "file", "sheet", "row", "column", "field", "rule", "severity", "seen", "suggestion", "message",
    "state",
]  # fmt: skip
CHANGE_COLUMNS = ["person_id", "file", "sheet", "row", "column", "field", "seen", "became", "why"]
ROW_COLUMNS = ["person_id", "file", "sheet", "row", "state", "reason", "occurrence_id", "part", "file_sha256"]
ORIGIN_COLUMNS = ["occurrenceID", "batch_id", "file", "sheet", "row", "file_sha256"]
SHEET_COLUMNS = [
    "person_id", "file", "sheet", "table", "heading_row", "first_column", "last_column", "rows_read", "file_sha256",
]  # fmt: skip
FIND_COLUMNS = [
    "find_occurrence_id", "release_occurrence_id", "tag", "km", "bearing_degrees", "days", "days_min", "days_max",
    "km_per_day", "kind", "state", "find_file", "find_sheet", "find_row", "release_file", "release_sheet",
    "release_row",
]  # fmt: skip


@dataclass(frozen=True)
class CoordinatorTables:
    """The ledger as the coordinator's CSV files show it."""

    findings: pd.DataFrame
    changes: pd.DataFrame
    rows: pd.DataFrame
    sheets: pd.DataFrame
    finds: pd.DataFrame
    letters: pd.DataFrame


def write_tables(folder: Path, tables: CoordinatorTables) -> list[str]:
    """Writes findings.csv, changes.csv, rows.csv, sheets.csv, origin.csv, finds.csv and letters.csv.

    Returns the paths that another program holds open, which then keep what they said before.
    """
    folder.mkdir(parents=True, exist_ok=True)
    changes = tables.changes.assign(column=_each(letter, tables.changes["column"]))
    published = tables.rows[tables.rows["digest"] != ""].rename(columns={"occurrence_id": "occurrenceID"})
    contents = {
        "findings.csv": _sorted(tables.findings, ["sheet", "row", "column", "rule"], FINDING_COLUMNS),
        "changes.csv": _sorted(changes, ["sheet", "row", "column", "field"], CHANGE_COLUMNS),
        "rows.csv": _sorted(tables.rows, ["file_sha256", "sheet", "row", "part"], ROW_COLUMNS),
        "origin.csv": _sorted(published, ["sheet", "row"], ORIGIN_COLUMNS),
        "sheets.csv": tables.sheets[SHEET_COLUMNS],
        "finds.csv": tables.finds[FIND_COLUMNS],
        "letters.csv": tables.letters,
    }
    stuck = []
    for name, table in contents.items():
        stuck += unless_held_open(folder / name, partial(write_csv, frame=table, guarded=True))
    return stuck


def unless_held_open(path: Path, write: Callable[[Path], object]) -> list[str]:
    """Writes a file; its path if another program holds it open, so that the rest of the outbox is still written."""
    try:
        write(path)
    except PermissionError:
        return [str(path)]
    return []


def _each(says: Callable[[Any], str], values: pd.Series) -> pd.Series:
    """What is said of each value, each different one asked once."""
    codes, unique = pd.factorize(values)
    return pd.Series([says(value) for value in unique], dtype="str").take(codes).set_axis(values.index)


def _sorted(table: pd.DataFrame, by: list[str], columns: list[str]) -> pd.DataFrame:
    """In the order of a reader: files in natural order, then as `by` says; no row is blank, not 0."""
    names = {file: place for place, file in enumerate(sorted(table["file"].unique(), key=natural_order))}
    codes, files = pd.factorize(table["file"])
    file = np.array([names[name] for name in files], dtype="int64")[codes]
    keys = [table[name] if name == "row" else pd.factorize(table[name], sort=True)[0] for name in by]
    order = np.lexsort([*reversed(keys), file])
    shown = table[columns].assign(row=_each(lambda row: str(row) if row else "", table["row"]))
    return shown if (np.diff(order) > 0).all() else shown.iloc[order]


def sheet_lines(tables: Mapping[int, Table], rows_read: Mapping[int, int], files: pd.DataFrame) -> pd.DataFrame:
    """A line for each table that was found, in copies too: where it stands and how many of its rows were read."""
    senders = dict(zip(files["file"], files["person_id"], strict=True))
    lines = [
        (
            senders.get(table.sheet.file, ""), table.sheet.file, table.sheet.name, str(table.number),
            str(table.heading_row), letter(min(heading.column for heading in table.headings)),
            letter(max(heading.column for heading in table.headings)),
            str(rows_read.get(number, 0) + len(table.left_out)), table.sheet.file_sha256,
        )
        for number, table in tables.items()
    ]  # fmt: skip
    copies = files.loc[files["copy_of"] != "", ["person_id", "file", "copy_of"]].itertuples(index=False)
    lines += [(person, file, *line[2:]) for person, file, first in copies for line in list(lines) if line[1] == first]
    return pd.DataFrame(lines, columns=SHEET_COLUMNS, dtype="str")


@contextmanager
def staging_folder(outbox: Path, is_trial: bool) -> Iterator[Path]:
    """Where a batch is built before the verdict: beside its place, or for a trial somewhere that is thrown away."""
    if is_trial:
        with TemporaryDirectory() as folder:
            yield Path(folder)
    else:
        yield outbox / STAGING


def move_batch(staged: Path | None, outbox: Path, refusals: Sequence[str]) -> None:
    """The staged batch goes to the portal by one rename; a refused one to the coordinator, the reasons beside it."""
    gate = outbox / "coordinator" / "gate"
    shutil.rmtree(gate, ignore_errors=True)
    if staged is None:
        return
    place = gate / staged.name if refusals else outbox / "portal" / staged.name
    place.parent.mkdir(parents=True, exist_ok=True)
    staged.rename(place)
    if refusals:
        (gate / "why.txt").write_text("".join(f"{refusal}\n" for refusal in refusals), encoding="utf-8", newline="\n")
    shutil.rmtree(staged.parent, ignore_errors=True)


def is_outbox_as_of(outbox: Path, run: int) -> bool:
    """Whether the outbox was written to its end after this run of the ledger."""
    stamp = outbox / "coordinator" / STAMP
    return stamp.is_file() and stamp.read_text(encoding="utf-8").split("\n")[0] == f"run {run}"


def write_stamp(outbox: Path, run: int, day: str) -> None:
    """The last file of a run: which run of the ledger the outbox shows."""
    stamp = outbox / "coordinator" / STAMP
    beside = stamp.with_suffix(".new")
    beside.write_text(f"run {run}\n{day}\n", encoding="utf-8", newline="\n")
    beside.replace(stamp)


def clear_folders_of_others(outbox: Path, people: set[str], finders: set[str]) -> None:
    """Takes away the letters of those who are no longer written to."""
    for folder, wanted in (("volunteers", people), ("finders", finders)):
        for old in (outbox / folder).glob("*"):
            if old.is_dir() and old.name not in wanted:
                shutil.rmtree(old, ignore_errors=True)


def finish_interrupted(outbox: Path, ledger: sqlite3.Connection) -> None:
    """Moves a batch that the ledger knows to its place, if a run was ended between its commit and the rename."""
    for (batch_id,) in ledger.execute("SELECT batch_id FROM batches").fetchall():
        staged, place = outbox / STAGING / batch_id, outbox / "portal" / batch_id
        if staged.is_dir() and not place.exists():
            place.parent.mkdir(parents=True, exist_ok=True)
            staged.rename(place)
    shutil.rmtree(outbox / STAGING, ignore_errors=True)
