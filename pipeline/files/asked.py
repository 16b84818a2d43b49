"""What a letter and a question sheet are made of, finished and in the words of their reader."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal

Kind = Literal["must-answer", "please-check"]
KINDS: tuple[Kind, ...] = ("must-answer", "please-check")


@dataclass(frozen=True)
class Question:
    """One question to one person; `wonder` is the finished sentence in the person's language.

    `row` is 0 where it is about a whole sheet or file; `rows` are all the rows of a block, `n_rows`
    how many they are (the rows themselves may be named only in part). `suggestion` is in plain words
    and `""` where there is no honest one. Rows are the sender's own numbers.
    """

    ref: str
    number: int
    row: int
    tag: str
    seen: str
    wonder: str
    suggestion: str
    why: str
    kind: Kind
    file: str
    sheet: str
    column: str
    field: str
    rows: tuple[int, ...]
    n_rows: int
    file_sha256: str = ""
    is_waivable: bool = True  # "right as it is" is an answer


@dataclass(frozen=True)
class RowShown:
    """A row of the sender's sheet as they wrote it: one asked about, or its neighbour; `status` in words."""

    ref: str
    status: str
    file: str
    sheet: str
    row: int
    cells: tuple[str, ...]
    is_asked: bool


@dataclass(frozen=True)
class SheetShown:
    """The rows shown of one of the sender's sheets, under the sender's own headings."""

    file: str
    sheet: str
    headings: tuple[str, ...]
    rows: tuple[RowShown, ...]


@dataclass(frozen=True)
class TagShown:
    """A tag of the person's allotment of which nothing was heard yet."""

    ref: str
    tag: str


@dataclass(frozen=True)
class Asked:
    """All that one person of people.csv is told and asked in one letter.

    Of `rows_read` rows `rows_clear` go out and `rows_held` wait for an answer; copies, replaced and
    left-out rows are in neither. `told` are for-information sentences. `seed` (batch and person)
    decides boundary and Message-ID, so that the same run gives the same bytes. `reminder` is 0 for the
    first letter about these questions, 1 for the first reminder; `wrote_on` is the day of the letter before.
    """

    person_id: str
    name: str
    email: str
    language: str
    is_minor: bool
    guardian_name: str
    guardian_email: str
    questions: tuple[Question, ...]
    sheets: tuple[SheetShown, ...]
    tags: tuple[TagShown, ...]
    rows_read: int
    rows_clear: int
    rows_held: int
    told: tuple[str, ...]
    due: date
    today: date
    programme_name: str
    contact: str
    signed_by: str
    reply_to: str
    seed: str
    reminder: int = 0
    wrote_on: date | None = None
    is_last_reminder: bool = False
    write_on: date | None = None
    rests: bool = False


@dataclass(frozen=True)
class Found:
    """What a finder outside people.csv is told and asked about one find.

    `found_on` and `released_on` are ISO days, months or intervals; `released_in` names a region and
    nothing finer, `""` while the release is not known. `km` and `days` are None where unknown; `km` is
    computed from the places as they are published, never from a home.
    """

    find_id: str
    name: str
    email: str
    language: str
    tag: str
    found_on: str
    found_at: str
    released_on: str
    released_in: str
    km: float | None
    days: int | None
    questions: tuple[Question, ...]
    due: date
    today: date
    programme_name: str
    contact: str
    signed_by: str
    reply_to: str
    seed: str
