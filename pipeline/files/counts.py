"""Counts the ledger: rows by state and person, tags by what became of them, findings and questions by rule."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Collection, Iterable, Mapping, Sequence

from pipeline.files.ledger import LIVE, frame
from pipeline.frames import Counted

NOT_RELEASED = ("lost", "spoiled", "not used")


def counted(ledger: sqlite3.Connection, run: int) -> Counted:
    """The whole ledger in counts, and the share of the files that came in this run."""
    new = f"SELECT file FROM files WHERE run = ? AND {LIVE}"
    never = "SELECT count(DISTINCT tag) FROM records WHERE is_allotted = 0 AND kind = 'release' AND tag != ''"
    return Counted(
        states=frame(ledger, "SELECT person_id, state, count(*) AS rows FROM rows GROUP BY person_id, state"),
        of_run=dict(ledger.execute(f"SELECT state, count(*) FROM rows WHERE file IN ({new}) GROUP BY state", (run,))),
        left_out=dict(
            ledger.execute("SELECT reason, count(*) FROM rows WHERE state = 'left-out' GROUP BY reason ORDER BY reason")
        ),
        never_allotted=int(ledger.execute(never).fetchone()[0]),
        tags={
            person: (json.loads(counts), json.loads(unheard))
            for person, counts, unheard in ledger.execute("SELECT * FROM tags_of_people ORDER BY person_id")
        },
        findings=frame(
            ledger,
            "SELECT rule, severity, asks, count(*) AS findings FROM findings WHERE state IN ('open', 'noted') "
            "GROUP BY rule, severity, asks",
        ),
        questions=frame(ledger, "SELECT ref, addressee, rule, severity FROM questions WHERE state = 'open'"),
    )


def told_of(ledger: sqlite3.Connection, codes: Collection[str] | None) -> tuple[set[str], dict[str, str]]:
    """Which of these tags (all for None) a current release carries, and what somebody said became of others."""
    released = "SELECT DISTINCT tag FROM records WHERE kind = 'release' AND tag != ''"
    if codes is not None:
        ledger.execute("CREATE TEMP TABLE IF NOT EXISTS counted_tags (tag TEXT PRIMARY KEY) WITHOUT ROWID")
        ledger.execute("DELETE FROM counted_tags")
        ledger.executemany("INSERT INTO counted_tags VALUES (?)", ((code,) for code in codes))
        released += " AND tag IN (SELECT tag FROM counted_tags)"
    told = f"SELECT tag, kind FROM records WHERE kind IN {NOT_RELEASED} AND tag != ''"
    answered = f"SELECT tag, fate FROM tag_fates WHERE {LIVE} ORDER BY rowid"
    return (
        {tag for (tag,) in ledger.execute(released)},
        {**dict(ledger.execute(told)), **dict(ledger.execute(answered))},
    )


def keep_tags(ledger: sqlite3.Connection, lines: Iterable[tuple[str, Mapping[str, int], Sequence[str]]]) -> None:
    """What became of the tags of people, in counts, and those not heard of."""
    ledger.executemany(
        "INSERT OR REPLACE INTO tags_of_people VALUES (?, ?, ?)",
        ((person, json.dumps(counts), json.dumps(unheard)) for person, counts, unheard in lines),
    )


def ready(ledger: sqlite3.Connection) -> dict[str, tuple[int, int]]:
    """By person: rows that are ready and rows that wait for an answer; what waits for the gate or the next delivery is
    ready as far as its sender is concerned."""
    is_ready = "state = 'clear' OR reason IN ('gate', 'waits for the next delivery')"
    counts = f"SELECT person_id, sum({is_ready}), sum(NOT ({is_ready})) FROM rows"
    lines = ledger.execute(f"{counts} WHERE state IN ('clear', 'held') GROUP BY person_id")
    return {person: (ok, held) for person, ok, held in lines}


def of_files(ledger: sqlite3.Connection, run: int) -> dict[str, int]:
    """How many files were read, are copies, were refused, and how many of all came in this run."""
    kinds = (
        "sum(refusal = '' AND copy_of = '')", "sum(copy_of != '')", "sum(refusal != '')", f"sum(run = {int(run)})",
    )  # fmt: skip
    line = ledger.execute(f"SELECT {', '.join(kinds)} FROM files WHERE replaced_by = '' AND {LIVE}").fetchone()
    return {name: count or 0 for name, count in zip(("read", "copies", "refused", "new"), line, strict=True)}
