"""What the ledger knows of the questions that answers are about: their cells, what they said, what they say now."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Collection, Iterable, Mapping
from typing import Any, NamedTuple

from pipeline.files.ledger import LIVE, frame
from pipeline.frames import lines_of


class Given(NamedTuple):
    """An answer that was given before."""

    ref: str
    key: str
    field: str
    choice: str
    value: str
    who: str


def questions_with(ledger: sqlite3.Connection, refs: Collection[str], addressee: str) -> list[dict[str, Any]]:
    """The questions with these Refs, and all that this person was ever asked, in the order of their numbers."""
    lines = frame(ledger, "SELECT * FROM questions WHERE addressee = ? ORDER BY number", (addressee,))
    questions = {line["ref"]: line for line in lines_of(lines)}
    for portion in _portions(sorted(set(refs) - questions.keys())):
        query = f"SELECT * FROM questions WHERE ref IN ({', '.join('?' * len(portion))})"
        questions |= {line["ref"]: line for line in lines_of(frame(ledger, query, portion))}
    return list(questions.values())


def findings_with(ledger: sqlite3.Connection, refs: Collection[str]) -> dict[str, list[dict[str, Any]]]:
    """By Ref: every finding that was asked about under it, open or not."""
    found: dict[str, list[dict[str, Any]]] = {}
    for portion in _portions(sorted(refs)):
        query = f"SELECT * FROM findings WHERE ref IN ({', '.join('?' * len(portion))}) ORDER BY identity"
        for line in lines_of(frame(ledger, query, portion)):
            found.setdefault(line["ref"], []).append(line)
    return found


def answers_with(ledger: sqlite3.Connection, keys: Collection[str]) -> list[Given]:
    """The answers that were given about these rows, in the order in which they came."""
    given = []
    for portion in _portions(sorted(keys)):
        marks = ", ".join("?" * len(portion))
        query = f"SELECT ref, key, field, choice, value, who FROM answers WHERE key IN ({marks}) AND {LIVE}"
        given += [Given(*line) for line in ledger.execute(f"{query} ORDER BY answer_id", portion)]
    return given


def values_of(ledger: sqlite3.Connection, keys: Collection[str]) -> dict[str, dict[str, tuple[str, str]]]:
    """By key of a current row: what each field says, as typed and in standard form."""
    places: set[tuple[str, str]] = set()
    for portion in _portions(sorted(keys)):
        query = f"SELECT DISTINCT file_sha256, sheet FROM rows WHERE key IN ({', '.join('?' * len(portion))})"
        places |= set(ledger.execute(query, portion))
    values: dict[str, dict[str, tuple[str, str]]] = {}
    for place in sorted(places):
        query = "SELECT rows, fields FROM values_now WHERE file_sha256 = ? AND sheet = ?"
        for of_rows, fields in ledger.execute(query, place):
            values |= _of_table(json.loads(of_rows), json.loads(fields), set(keys))
    return values


def _of_table(
    of_rows: list[str], fields: Mapping[str, list[list[str]]], keys: Collection[str]
) -> Iterable[tuple[str, dict[str, tuple[str, str]]]]:
    return [
        (key, {name: (columns[-1][at], columns[0][at]) for name, columns in fields.items()})
        for at, key in enumerate(of_rows)
        if key in keys
    ]


def _portions(values: list[str]) -> Iterable[list[str]]:
    return (values[at : at + 500] for at in range(0, len(values), 500))
