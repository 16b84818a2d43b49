"""What a question is about as the ledger knows it, and what an answer may come to."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from dataclasses import dataclass

from pipeline.model import AnswerLine

COORDINATOR = "coordinator"
BY_US, BY_SHEET, BY_ANSWER, BY_COORDINATOR = "us", "newer sheet", "answer", "coordinator"
APPLIED, CONFIRMED, WITHDRAWN, OPEN = "applied", "confirmed", "taken out", "left open"
CAME_BEFORE, ALREADY_SO, NOTED = "came before", "already so", "noted"
TAKE_OUT = "withdrawn"  # the suggestion to take a row out
CONFLICT, ROW_WITHDRAWN = "conflict", "row withdrawn"
NOT_READ, NOT_CONFIRMED, DIFFERS, MANY = "not read", "cannot be confirmed", "differs", "one value for many"
NOT_THEIRS, NO_QUESTION = "somebody else's", "no such question"


@dataclass(frozen=True)
class Cell:
    """A cell that a question is about: what it said when it was asked, and what it says now.

    `was` and `now` are (as typed, standard form). `changed_by` is whose answer stands in it now, "" if nobody's.
    `is_current` is no where the row was withdrawn or is no longer there, `is_found` where the finding no longer stands.
    """

    key: str
    field: str
    rule: str
    severity: str
    suggestion: str
    fingerprint: str
    was: tuple[str, str]
    now: tuple[str, str]
    changed_by: str = ""
    is_current: bool = True
    is_found: bool = True
    decides: str = ""  # what an answer decides beside cells: sender, heading, given or site
    others: Mapping[str, tuple[str, str]] = dataclasses.field(
        default_factory=dict
    )  # what the other fields of its row say


@dataclass(frozen=True)
class Asked:
    """A question as the ledger knows it; `given` are the answers that it had, as (choice, value)."""

    ref: str
    number: int
    addressee: str
    rule: str
    wonder: str
    tag: str
    is_open: bool
    is_waivable: bool
    cells: tuple[Cell, ...]
    given: frozenset[tuple[str, str]] = frozenset()
    is_of_table: bool = False  # about a file or a heading, not about rows


@dataclass(frozen=True)
class Decision:
    """What becomes of a line: the outcome in words, the question, and the cells that the answer is put into.

    `values` are (cell, field, value, kind) to be put in, `confirmed` the cells that are right as they are.
    """

    line: AnswerLine
    outcome: str
    asked: Asked | None = None
    values: tuple[tuple[Cell, str, str, str], ...] = ()
    confirmed: tuple[Cell, ...] = ()
    cell: Cell | None = None  # the one that a conflict is about
