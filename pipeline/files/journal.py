"""The journal: every change that somebody made, who and when, what was and what became; it is only added to."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable
from datetime import date
from typing import NamedTuple


class Entry(NamedTuple):
    """One change; `about` names a row's key, a Ref, a file, a person or a batch."""

    who: str
    what: str
    about: str
    was: str = ""
    became: str = ""
    why: str = ""


def write_down(ledger: sqlite3.Connection, when: tuple[date, int], entries: Iterable[Entry]) -> None:
    """Adds entries; `when` is the day and the number of the run."""
    day, run = when
    names = "run, day, who, what, about, was, became, why"
    ledger.executemany(
        f"INSERT INTO journal ({names}) VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
        ((run, day.isoformat(), *entry) for entry in entries),
    )
