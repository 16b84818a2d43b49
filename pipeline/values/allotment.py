"""Which tag was handed to whom: the lines of tags.csv laid out code by code."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple


class Range(NamedTuple):
    """A line of tags.csv with its codes counted out."""

    season: str
    person_id: str
    status: str
    codes: tuple[str, ...]


class Tag(NamedTuple):
    """A tag as tags.csv leaves it: whose it is, for which season, what became of it."""

    person_id: str
    season: str
    status: str


def allotted_tags(ranges: Iterable[Range], season: str) -> dict[str, Tag]:
    """Every code of tags.csv, a later line about a code overriding an earlier; this season's lines win.

    >>> ranges = [Range("2026", "p1", "", ("SM0001", "SM0002")), Range("2026", "", "lost", ("SM0002",))]
    >>> allotted_tags(ranges, "2026")["SM0002"]
    Tag(person_id='p1', season='2026', status='lost')
    """
    tags: dict[str, Tag] = {}
    for line in sorted(ranges, key=lambda line: line.season == season):
        status = line.status or "allotted"
        if line.person_id:
            tags.update(dict.fromkeys(line.codes, Tag(line.person_id, line.season, status)))
            continue
        for code in line.codes:
            before = tags.get(code)
            tags[code] = Tag(before.person_id if before else "", line.season, status)
    return tags
