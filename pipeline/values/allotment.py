"""Which tag was handed to whom: the lines of tags.csv laid out code by code."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import NamedTuple

from pipeline.values.tag_code import codes_between


class Tag(NamedTuple):
    """A tag as tags.csv leaves it: whose it is, for which season, what became of it."""

    person_id: str
    season: str
    status: str


def allotted_tags(lines: Iterable[Mapping[str, str]], season: str) -> dict[str, Tag]:
    """Every code of tags.csv, a later line about a code overriding an earlier; this season's lines win.

    >>> lines = [{"season": "2026", "first_code": "SM0001", "last_code": "SM0002", "person_id": "p1", "status": ""},
    ...          {"season": "2026", "first_code": "SM0002", "last_code": "", "person_id": "", "status": "lost"}]
    >>> allotted_tags(lines, "2026")["SM0002"]
    Tag(person_id='p1', season='2026', status='lost')
    """
    tags: dict[str, Tag] = {}
    for line in sorted(lines, key=lambda line: line["season"] == season):
        for code in codes_between(line["first_code"], line["last_code"] or line["first_code"]):
            before = tags.get(code)
            person = line["person_id"] or (before.person_id if before else "")
            tags[code] = Tag(person, line["season"], line["status"] or "allotted")
    return tags
