"""What a rule is: everything that we may tell anybody about their data."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from pipeline.model import Asked, Scope, Severity


class Examples(NamedTuple):
    """Small tables, written before the rule: what it finds, what it leaves, what it nearly finds.

    Each is text with a heading line and `|` between cells. Columns are fields and looked-up
    facts; `suggests <field>` is the promised suggestion; in `finds` a row with `found` = no is
    there for context only. Blank lines part tables that do not know of each other.
    """

    finds: str
    leaves: str
    near_misses: str


@dataclass(frozen=True)
class Rule:
    """A rule, read as a form; its name is the name of its file, its subject that of its folder."""

    title: str
    severity: Severity
    scope: Scope
    asks: Asked
    fields: tuple[str, ...]  # the finding stands on the first; scope cell: on each
    message: str  # first what we saw, then why it matters in one clause, then what to do
    why: str
    source: str
    examples: Examples
    looked_up: tuple[str, ...] = ()
    withholds: tuple[str, ...] = ()  # stays home until answered, the row goes out
    unsuggested: str = ""  # the message where there is no honest suggestion
    each_row: bool = False  # never gathered into one question
    by_word: bool = False  # without a suggestion one question for each word that was typed, however few its rows
    waivable: bool = True  # a tagger may say that it is right as it is
    decides: str = ""  # what an answer decides beside cells: sender, heading, given (a value for all rows) or site
    version: int = 1  # counts up when the rule looks at something new, so that what was confirmed is asked again
