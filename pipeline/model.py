"""What flows between the stages: a few frozen things and the columns of the tables."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from typing import Literal, NamedTuple

Severity = Literal["must-answer", "please-check", "for-information"]
Scope = Literal["file", "heading", "cell", "row", "sheet", "person", "season", "answer"]
Asked = Literal["tagger", "finder", "coordinator"]
RowState = Literal["clear", "held", "replaced", "withdrawn", "copy", "left-out"]

SEVERITIES: tuple[Severity, ...] = ("must-answer", "please-check", "for-information")

# How a cell was stored, one letter a cell, so that a row's kinds are one short string.
TEXT, NUMBER, DAY, CLOCK, BOOLEAN, ERROR, FORMULA, BLANK = "tndcbef-"


class Reading(NamedTuple):
    """What a reader made of one cell.

    `value` is the standard form, or the text as typed where the cell could not be read for
    sure; `change` says in a few words why the standard form differs from what was typed;
    `doubt` is a code word for what stands in the way; `candidates` are the possible readings.
    """

    value: str
    change: str = ""
    doubt: str = ""
    candidates: tuple[str, ...] = ()


@dataclass(frozen=True)
class Sheet:
    """One sheet of a file as stored: `texts[0]` is row 1, `kinds[0]` has one letter a cell of it.

    Rows are counted from 1 and columns from 0. `merged` are first row, first column, last row, last column of cells
    merged into one, whose text stands in the first; `struck_rows` are those with a line drawn through them.
    """

    file: str
    file_sha256: str
    name: str
    texts: tuple[tuple[str, ...], ...]
    kinds: tuple[str, ...]
    hidden_rows: frozenset[int] = frozenset()
    is_hidden: bool = False
    hidden_columns: frozenset[int] = frozenset()
    struck_rows: frozenset[int] = frozenset()
    merged: tuple[tuple[int, int, int, int], ...] = ()


@dataclass(frozen=True)
class FileRead:
    """One file of the inbox, read or refused; `refusal` is the name of a rule, `what` fills its words."""

    file: str
    file_sha256: str
    sheets: tuple[Sheet, ...] = ()
    refusal: str = ""
    what: str = ""
    text: str = ""  # the words of a mail or of a plain text file, "" of anything else
    writer: str = ""  # the address that a mail came from
    written_on: date | None = None


@dataclass(frozen=True)
class Heading:
    """A column of a table: where it stands, what it is called, which field it is taken for."""

    column: int  # counted from 0
    written: str
    field: str = ""  # "" is an unknown column, whose cells stay in the ledger
    guess: str = ""  # the nearest field where it was not near enough to be taken
    hint: str = ""  # what the heading says beside its name: a unit, "W", "m/d/y"


@dataclass(frozen=True)
class Table:
    """A table on a sheet: rows are counted from 1 as the sender sees them, columns from 0."""

    sheet: Sheet
    number: int
    heading_row: int
    headings: tuple[Heading, ...]
    first_row: int
    last_row: int
    left_out: dict[int, str] = field(default_factory=dict)  # row: reason
    given_once: dict[str, tuple[str, int, int]] = field(default_factory=dict)  # field: text, row, column
    # Of several tables or butterflies beside each other: which one it is, the columns of its own, of which one must be
    # filled, and for the first butterfly those of the others, for whose sake a row need not be its own.
    part: str = ""
    own: frozenset[int] = frozenset()
    others: frozenset[int] = frozenset()


@dataclass(frozen=True)
class AnswerLine:
    """A line of a question sheet or of a letter that came back, as its sender left it.

    `about` says what its Ref names: a question, a row of *Your rows*, or a tag of *Your tags*; of a `reply` in plain
    text it is a question again, named by `number` where no Ref was typed, or the `only` one there is. `choice` is
    suggestion, right, other or unknown, `""` for a line left blank, `unread` for words that we could not read.
    `value` is the other value, or what became of a tag. `tag`, `wrote` and `wonder` are what the sheet quotes of
    its question. `cells` are the (heading, text, kind) of a row of *Your rows*.
    """

    file: str
    file_sha256: str
    sheet: str
    row: int
    about: Literal["question", "row", "tag", "none", "only"]
    ref: str = ""
    number: int = 0
    choice: str = ""
    value: str = ""
    kind: str = BLANK
    why: str = ""
    typed: str = ""
    tag: str = ""
    wrote: str = ""
    wonder: str = ""
    cells: tuple[tuple[str, str, str], ...] = ()
