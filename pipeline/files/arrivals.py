"""What is new in the inbox, held against the ledger: new files, copies, moved files, newer bytes at a path."""

from __future__ import annotations

import sqlite3
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

import pandas as pd

from pipeline.files.intake import Arrival
from pipeline.files.ledger import frame, insert
from pipeline.model import FileRead


@dataclass(frozen=True)
class Plan:
    """What to do with the inbox: files to read, copies (path of the copy: first path), moves (old path: new path)."""

    new: tuple[Arrival, ...]
    copies: dict[str, str]
    moved: dict[str, str]
    replaced: tuple[str, ...]  # paths that hold newer bytes than the ledger knows

    @property
    def is_empty(self) -> bool:
        """Whether the ledger knows the inbox as it is."""
        return not (self.new or self.copies or self.moved)


def plan(arrivals: Sequence[Arrival], ledger: sqlite3.Connection) -> Plan:
    """Which arrivals are new, and in which way; nothing is written."""
    known = frame(ledger, "SELECT file, sha256 FROM files WHERE replaced_by = ''")
    here = {(arrival.file, arrival.sha256) for arrival in arrivals}
    paths = {arrival.file for arrival in arrivals}
    first_path = dict(zip(known["sha256"][::-1], known["file"][::-1], strict=True))
    at_path = dict(zip(known["file"], known["sha256"], strict=True))
    new, copies, moved = [], dict[str, str](), dict[str, str]()
    for arrival in arrivals:
        if at_path.get(arrival.file) == arrival.sha256:
            continue
        first = first_path.get(arrival.sha256)
        if first is None:
            new.append(arrival)
            first_path[arrival.sha256] = arrival.file
        elif (first, arrival.sha256) not in here and first not in moved and first not in paths:
            moved[first] = arrival.file
            first_path[arrival.sha256] = arrival.file
        else:
            copies[arrival.file] = first
    newer = {arrival.file for arrival in arrivals} & {file for file in at_path if (file, at_path[file]) not in here}
    return Plan(tuple(new), copies, moved, tuple(sorted(newer)))


def keep_plan(
    ledger: sqlite3.Connection,
    planned: Plan,
    arrivals: Sequence[Arrival],
    reads: Sequence[FileRead],
    when: tuple[date, int],
) -> None:
    """Writes the plan into the ledger: the new files and copies, the moves, and what newer bytes replace."""
    day, run = when
    for old, new in planned.moved.items():
        for table in ("files", "rows", "findings"):
            ledger.execute(f"UPDATE OR REPLACE {table} SET file = ? WHERE file = ?", (new, old))
    by_file = {arrival.file: arrival for arrival in arrivals}
    for file in planned.replaced:
        words = f"newer bytes of the same file came on {day.isoformat()}"
        ledger.execute(
            "UPDATE files SET replaced_by = ? WHERE file = ? AND replaced_by = ''",
            (by_file[file].sha256, file),
        )
        ledger.execute(
            "UPDATE rows SET state = 'replaced', reason = ? WHERE file = ? AND state NOT IN ('left-out', 'replaced')",
            (words, file),
        )
    refused = {read.file: (read.refusal, read.what) for read in reads}
    lines = [
        (
            file,
            by_file[file].sha256,
            by_file[file].size,
            day.isoformat(),
            *refused.get(file, ("", "")),
            first,
            run,
        )
        for file, first in [*((one.file, "") for one in planned.new), *planned.copies.items()]
    ]
    names = ["file", "sha256", "size", "received", "refusal", "what", "copy_of", "run"]
    insert(ledger, "files", pd.DataFrame(lines, columns=names))
