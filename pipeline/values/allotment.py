"""Which tag was handed to whom: the lines of tags.csv laid out code by code."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Collection, Iterable, Sequence
from typing import NamedTuple

from pipeline.values.codes import Codes, key_and_number


class Range(NamedTuple):
    """A line of tags.csv with its codes."""

    season: str
    person_id: str
    status: str
    codes: Sequence[str]


class Tag(NamedTuple):
    """A tag as tags.csv leaves it: whose it is, for which season, what became of it."""

    person_id: str
    season: str
    status: str


def allotted_tags(ranges: Iterable[Range], season: str, only: Collection[str] | None = None) -> dict[str, Tag]:
    """Every code of tags.csv, a later line about a code overriding an earlier; this season's lines win.

    With `only`, those of these codes that stand there.

    >>> ranges = [Range("2026", "p1", "", ("SM0001", "SM0002")), Range("2026", "", "lost", ("SM0002",))]
    >>> allotted_tags(ranges, "2026")["SM0002"]
    Tag(person_id='p1', season='2026', status='lost')
    >>> list(allotted_tags(ranges, "2026", {"SM0001", "SM0009"}))
    ['SM0001']
    """
    tags: dict[str, Tag] = {}
    wanted = None if only is None else _by_number(only)
    for line in sorted(ranges, key=lambda line: line.season == season):
        status = line.status or "allotted"
        codes = line.codes if wanted is None else _among(line.codes, wanted)
        if line.person_id:
            tags.update(dict.fromkeys(codes, Tag(line.person_id, line.season, status)))
            continue
        for code in codes:
            before = tags.get(code)
            tags[code] = Tag(before.person_id if before else "", line.season, status)
    return tags


Numbered = dict[tuple[str, str], tuple[list[int], list[str]]]


def _by_number(codes: Iterable[str]) -> Numbered:
    """The codes of each kind in the order of their numbers, so that those of a range are found at once."""
    kinds: dict[tuple[str, str], list[tuple[int, str]]] = {}
    for code in codes:
        key, number = key_and_number(code)
        kinds.setdefault(key, []).append((number, code))
    return {
        key: ([number for number, _ in found], [code for _, code in found])
        for key, unsorted in kinds.items()
        for found in [sorted(unsorted)]
    }


def _among(codes: Sequence[str], wanted: Numbered) -> list[str]:
    if not isinstance(codes, Codes):
        return [code for code in codes if code in wanted.get(key_and_number(code)[0], ([], []))[1]]
    numbers, known = wanted.get(codes.key, ([], []))
    found = known[bisect_left(numbers, codes.start) : bisect_right(numbers, codes.end)]
    return [code for code in found if code in codes]
