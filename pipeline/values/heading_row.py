"""What a whole row of headings says: which column is which field, with no field claimed twice."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache

from pipeline.model import Heading
from pipeline.values.column_groups import numbered
from pipeline.values.heading import KEPT, HeadingNames, Match, known_heading, match_heading

_PARTS = frozenset({"tagLetters", "month"})
_FIGURES = re.compile(r"\d{3}|^\W*\d+\W*$")  # of a code, a day, a number: in no heading that we know


def may_head(text: str) -> bool:
    """The cell could be a heading at all."""
    return text.strip() != "" and not _FIGURES.search(text)


@lru_cache(maxsize=4096)
def match_headings(
    written: tuple[str, ...], names: HeadingNames, given: frozenset[str] = frozenset()
) -> tuple[Heading, ...]:
    """The headings of a row, blank cells left out; `given` are the fields that stand above the table.

    Of two that claim one field the one known to the letter has it, of equals the first; the other
    has no field and the same guess. A guess at a field that has its column is no guess at all.
    """
    columns = [column for column, text in enumerate(written) if text.strip()]
    matches = _in_company([match_heading(written[column], names) for column in columns], given)
    owners = _owners(matches)
    headings = []
    for i, (column, match) in enumerate(zip(columns, matches, strict=True)):
        field, guess = match.field, match.guess
        if field != KEPT and field and owners[field] != i:
            field, guess = "", field
        elif guess in owners:
            guess = ""
        headings.append(Heading(column, written[column], field, guess, match.hint))
    return tuple(headings)


@lru_cache(maxsize=4096)
def fields_known(row: tuple[str, ...], names: HeadingNames) -> tuple[tuple[int, str], ...]:
    """The columns of a row that hold a heading known to the letter, with its field."""
    matches = ((column, known_heading(text, names).field) for column, text in enumerate(row) if may_head(text))
    known = tuple((column, field) for column, field in matches if field)
    again = numbered(row, names) if any(text[-1:].isdigit() or text[:1].isdigit() for text in row) else {}
    return (
        known
        if not again
        else tuple({**{column: field for column, (_, field) in again.items()}, **dict(known)}.items())
    )


def _in_company(matches: Sequence[Match], given: frozenset[str]) -> list[Match]:
    """Headings that mean one thing alone and another beside others.

    *Day* without a month is the whole day, or the day of the week beside a date; *number* beside
    letters is the tag's figures.
    """
    fields = {match.field for match in matches} | (given & _PARTS)
    day = Match("eventDate", is_exact=True) if "eventDate" not in fields else Match(KEPT, is_exact=True)
    is_in_parts = "tagLetters" in fields and not fields & {"tagDigits", "tagCode"}
    heard = []
    for match in matches:
        if match.field == "day" and "month" not in fields:
            heard.append(day)
        elif match.guess == "tagCode" and is_in_parts:
            heard.append(Match("tagDigits", is_exact=True))
        else:
            heard.append(match)
    return heard


def _owners(matches: Sequence[Match]) -> dict[str, int]:
    owners: dict[str, int] = {}
    for i, match in enumerate(matches):
        if not match.field or match.field == KEPT:
            continue
        owner = owners.setdefault(match.field, i)
        if match.is_exact and not matches[owner].is_exact:
            owners[match.field] = i
    return owners
