"""What is new in the inbox, held against the ledger: new files, copies, moved files, newer bytes at a path."""

from __future__ import annotations

import sqlite3
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

import pandas as pd

from pipeline.files.intake import Arrival, natural_order
from pipeline.files.journal import Entry, write_down
from pipeline.files.ledger import LIVE, frame, insert
from pipeline.model import FileRead

TOGETHER_SECONDS = 60.0  # files whose times follow so closely came together


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
    """Which arrivals are new, and in which way, in the order in which they came; nothing is written."""
    known = frame(
        ledger, f"SELECT file, sha256, replaced_by FROM files WHERE {LIVE} ORDER BY replaced_by != '', file_id"
    )
    now = known[known["replaced_by"] == ""]
    here = {(arrival.file, arrival.sha256) for arrival in arrivals}
    paths = {arrival.file for arrival in arrivals}
    first_path = dict(zip(known["sha256"][::-1], known["file"][::-1], strict=True))
    at_path = dict(zip(now["file"], now["sha256"], strict=True))
    new, copies, moved = [], dict[str, str](), dict[str, str]()
    for arrival in as_they_came(arrivals):
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
    newer = paths & {file for file in at_path if (file, at_path[file]) not in here}
    return Plan(tuple(new), copies, moved, tuple(sorted(newer)))


def as_kept(planned: Plan, kept: Sequence[Arrival]) -> Plan:
    """The plan with the new files as they are kept; the others and their copies wait for the next run."""
    lost = {one.file for one in planned.new} - {one.file for one in kept}
    waits = lost | {file for file, first in planned.copies.items() if first in lost}
    copies = {file: first for file, first in planned.copies.items() if file not in waits}
    return Plan(tuple(kept), copies, planned.moved, tuple(file for file in planned.replaced if file not in waits))


def as_they_came(arrivals: Sequence[Arrival]) -> list[Arrival]:
    """In the order of the files' times, those that follow within a minute by name as people count."""
    by_time = sorted(arrivals, key=lambda arrival: arrival.written)
    group, groups = 0, []
    for before, arrival in zip([*by_time[:1], *by_time], by_time, strict=False):
        group += arrival.written - before.written > TOGETHER_SECONDS
        groups.append((group, natural_order(arrival.file), arrival))
    return [arrival for _, _, arrival in sorted(groups, key=lambda line: line[:2])]


def keep_plan(
    ledger: sqlite3.Connection,
    planned: Plan,
    arrivals: Sequence[Arrival],
    reads: Sequence[FileRead],
    when: tuple[date, int],
) -> None:
    """Writes the plan into the ledger: the new files and copies, the moves, and what newer bytes replace."""
    day, run = when
    entries = []
    for old, new in planned.moved.items():
        for table in ("files", "rows", "findings", "changes"):
            ledger.execute(f"UPDATE {table} SET file = ? WHERE file = ?", (new, old))
        entries.append(Entry("tagsheaf", "file moved", new, was=old, became=new))
    by_file = {arrival.file: arrival for arrival in arrivals}
    for file in planned.replaced:
        ledger.execute(
            "UPDATE files SET replaced_by = ? WHERE file = ? AND replaced_by = ''", (by_file[file].sha256, file)
        )
        entries.append(Entry("tagsheaf", "newer bytes at the same path", file, became=by_file[file].sha256))
    refused = {read.file: (read.refusal, read.what) for read in reads}
    written = {arrival.file: arrival.written_on for arrival in arrivals if arrival.written_on}
    lines = [
        (
            file,
            by_file[file].sha256,
            by_file[file].size,
            min(day, written.get(file, day)).isoformat(),
            *refused.get(file, ("", "")),
            first,
            run,
        )
        for file, first in [*((one.file, "") for one in planned.new), *planned.copies.items()]
    ]
    names = ["file", "sha256", "size", "received", "refusal", "what", "copy_of", "run"]
    insert(ledger, "files", pd.DataFrame(lines, columns=names))
    came = [Entry("tagsheaf", "file came", line[0], became=line[1], why=line[6]) for line in lines]
    write_down(ledger, when, [*entries, *came])
