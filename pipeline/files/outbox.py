"""Writes the outbox: where a batch is built and moved to, letters of others taken away, a stamp last."""

from __future__ import annotations

import shutil
import sqlite3
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from datetime import date
from pathlib import Path
from tempfile import TemporaryDirectory

STAMP = "stamp.txt"
STAGING = ".staging"


def unless_held_open(path: Path, write: Callable[[Path], object]) -> list[str]:
    """Writes a file; its path if another program holds it open, so that the rest of the outbox is still written."""
    try:
        write(path)
    except PermissionError:
        return [str(path)]
    return []


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


def is_outbox_as_of(outbox: Path, run: int, today: date) -> bool:
    """Whether the outbox was written to its end after this run of the ledger, this day, and has its archive."""
    stamp, portal = outbox / "coordinator" / STAMP, outbox / "portal"
    if not (portal / "archive.zip").is_file() and any(portal.glob("*/occurrence.csv")):
        return False
    return stamp.is_file() and stamp.read_text(encoding="utf-8").split("\n")[:2] == [f"run {run}", today.isoformat()]


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


def finish_interrupted(outbox: Path, ledger: sqlite3.Connection) -> tuple[str, ...]:
    """Moves a batch that the ledger knows to its place, if a run was ended between its commit and the rename.

    Returns what to say about it.
    """
    notes: list[str] = []
    for (batch_id,) in ledger.execute("SELECT batch_id FROM batches").fetchall():
        staged, place = outbox / STAGING / batch_id, outbox / "portal" / batch_id
        if staged.is_dir() and not place.exists():
            place.parent.mkdir(parents=True, exist_ok=True)
            staged.rename(place)
            notes.append(f"batch {batch_id} of a run that was cut short was put into its place in outbox/portal")
    shutil.rmtree(outbox / STAGING, ignore_errors=True)
    return tuple(notes)
