"""Which letter is due to whom: a round begins when the coordinator says that letters were sent."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from pipeline.files.ledger import LIVE
from pipeline.settings import Letters


@dataclass(frozen=True)
class Round:
    """A letter as it stands now: the day to answer by, which reminder it is (0 for the first), when to write it.

    `wrote_on` is the day of the last letter, None before the first. `rests`: the last reminder was sent, and the rows
    stay where they are.
    """

    due: date
    reminder: int = 0
    write_on: date | None = None
    wrote_on: date | None = None
    is_last: bool = False
    rests: bool = False


Sent = Mapping[str, Sequence[tuple[date, frozenset[str]]]]


def rounds_sent(ledger: sqlite3.Connection) -> Sent:
    """By person: the day of each letter that was sent, and the Refs that it asked about."""
    sent: dict[str, list[tuple[date, frozenset[str]]]] = {}
    query = f"SELECT person_id, day, refs FROM rounds WHERE {LIVE} ORDER BY day, rowid"
    for person, day, refs in ledger.execute(query):
        sent.setdefault(person, []).append((date.fromisoformat(day), frozenset(json.loads(refs))))
    return sent


def round_of(
    sent: Sequence[tuple[date, frozenset[str]]], refs: Collection[str], today: date, letters: Letters
) -> Round:
    """The round that the open questions of a person are in.

    A question that was never sent makes it a first letter again. Of questions that were all sent, the one sent least
    often counts.
    """
    times = [sum(ref in asked for _, asked in sent) for ref in refs]
    least = min(times, default=0)
    days = [day for day, asked in sent if asked.intersection(refs)]
    if not least or not days:
        return Round(due=today + timedelta(days=letters.days_to_answer), wrote_on=days[-1] if days else None)
    if least > letters.reminders:
        return Round(days[-1] + timedelta(days=letters.days_to_answer), letters.reminders, None, days[-1], True, True)
    write_on = days[-1] + timedelta(days=letters.reminder_days)
    due = max(write_on, today) + timedelta(days=letters.days_to_answer)
    return Round(due, least, write_on, days[-1], is_last=least == letters.reminders)
