"""Headings that come again beside each other: two tables on one row, or several butterflies in one row."""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import pairwise

from pipeline.model import Heading
from pipeline.values.heading import KEPT, HeadingNames, known_heading
from pipeline.values.text import tidy

MOST = 40  # groups in a row
_NUMBERED = re.compile(r"(?P<base>.*?\D)[\s_#.-]*(?P<number>\d{1,2})|(?P<first>\d{1,2})[\s_#.-]*(?P<rest>\D.*)")


def numbered(row: Sequence[str], names: HeadingNames) -> dict[int, tuple[int, str]]:
    """By column: the number of a heading such as `Tag 2` and its field, where the row has several numbered tags.

    >>> from pipeline.values.heading import heading_names
    >>> names = heading_names([{"written": "Tag", "field": "tagCode", "hint": ""}], [])
    >>> numbered(("Date", "Tag 1", "Tag 2"), names), numbered(("Tag 1", "Date"), names)
    ({1: (1, 'tagCode'), 2: (2, 'tagCode')}, {})
    """
    found: dict[int, tuple[int, str]] = {}
    for column, text in enumerate(row):
        said = _NUMBERED.fullmatch(tidy(text)) if any(sign.isdigit() for sign in text) else None
        if said is None:
            continue
        field = known_heading(said["base"] or said["rest"], names).field
        if field and field != KEPT:
            found[column] = (int(said["number"] or said["first"]), field)
    tags = [number for number, field in found.values() if field == "tagCode"]
    return found if len(set(tags)) > 1 and len(tags) == len(set(tags)) else {}


def side_by_side(row: Sequence[str], names: HeadingNames) -> list[tuple[int, int]]:
    """First and last column of each table on a heading row: where blank columns part some that name the same fields.

    >>> from pipeline.values.heading import heading_names
    >>> names = heading_names([{"written": "Tag", "field": "tagCode", "hint": ""}], [])
    >>> side_by_side(("Tag", "Sex", "", "Tag", "Sex"), names), side_by_side(("Tag", "", "Sex"), names)
    ([(0, 2), (3, 4)], [])
    """
    starts = [at for at, text in enumerate(row) if text.strip() and (at == 0 or not row[at - 1].strip())]
    named = [_fields(row[start : _end(row, start)], names) for start in starts]
    first = named[0] if named else frozenset()
    are_alike = all("tagCode" in fields for fields in named) or (
        len(first) > 1 and all(len(fields & first) > 1 and 2 * len(fields & first) >= len(first) for fields in named)
    )
    if len(starts) < 2 or not are_alike:
        return []
    return [(start, end - 1) for start, end in zip(starts, [*starts[1:], len(row)], strict=True)]


def _end(row: Sequence[str], start: int) -> int:
    return next((at for at in range(start, len(row)) if not row[at].strip()), len(row))


def _fields(row: Sequence[str], names: HeadingNames) -> frozenset[str]:
    return frozenset(known_heading(text, names).field for text in row) - {"", KEPT}


def groups_of(headings: Sequence[Heading], names: HeadingNames) -> list[tuple[Heading, ...]]:
    """The headings of each butterfly of a row, those that all share left out; none where a row is one butterfly."""
    return _by_number(headings, names) or _said_again(headings, names)


def _by_number(headings: Sequence[Heading], names: HeadingNames) -> list[tuple[Heading, ...]]:
    width = max((heading.column for heading in headings), default=-1) + 1
    row = [""] * width
    for heading in headings:
        row[heading.column] = heading.written
    groups: dict[int, list[Heading]] = {}
    for column, (number, field) in numbered(row, names).items():
        own = next(heading for heading in headings if heading.column == column)
        groups.setdefault(number, []).append(Heading(column, own.written, field, hint=own.hint))
    return [tuple(group) for _, group in sorted(groups.items())]


def _said_again(headings: Sequence[Heading], names: HeadingNames) -> list[tuple[Heading, ...]]:
    """The same two columns or more, or three tags and more, one group after the other to the end of the row."""
    in_order = sorted((one for one in headings if one.written.strip()), key=lambda one: one.column)
    fields = [known_heading(one.written, names).field for one in in_order]
    tags = [at for at, field in enumerate(fields) if field == "tagCode"]
    if not 1 < len(tags) <= MOST:
        return []
    size = tags[1] - tags[0]
    pieces = [fields[at : at + size] for at in tags]
    is_even = all(later - earlier == size for earlier, later in pairwise(tags))
    is_same = is_even and all(piece == pieces[0] for piece in pieces) and tags[-1] + size == len(fields)
    if not is_same or "" in pieces[0] or (size == 1 and len(tags) < 3):
        return []
    return [
        tuple(
            Heading(one.column, one.written, field, hint=one.hint)
            for one, field in zip(in_order[at : at + size], pieces[0], strict=True)
        )
        for at in tags
    ]


def shared_by(headings: Sequence[Heading], groups: Sequence[Sequence[Heading]]) -> tuple[Heading, ...]:
    """The headings that count for every group: those of no group whose field none of them has."""
    columns = {one.column for group in groups for one in group}
    fields = {one.field for group in groups for one in group}
    return tuple(one for one in headings if one.column not in columns and one.field not in fields)
