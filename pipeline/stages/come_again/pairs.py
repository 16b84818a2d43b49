"""Holds the rows of a file against the rows that the same person sent before: which is which."""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache
from itertools import pairwise
from typing import NamedTuple

from rapidfuzz.distance import Levenshtein

COPY, NEWER = "copy", "newer"
ALIKE = 0.5  # of the cells filled on either side: a row that was seen before, though edited
TAGS_SHARED, TAGS_SHARE = 5, 0.8  # so many tags in common are a version even if a column was sorted by itself
SLIP = 1  # letters by which a corrected code may differ
_NUMBER = re.compile(r"-?(?:0|[1-9]\d*)(?:\.\d+)?")


class Row(NamedTuple):
    """A row as it is compared: `values` holds its filled fields but for the tag, `candidates` other readings."""

    place: str
    kind: str
    tag: str
    values: Mapping[str, str]
    candidates: Mapping[str, tuple[str, ...]]
    fields: frozenset[str]  # those that its table has a column for


class Paired(NamedTuple):
    """By place of a new row: the key of the row that it is, and how; the file of which it is a newer version."""

    links: dict[str, tuple[str, str]]
    older: str


class Sent(NamedTuple):
    """What a person sent so far: the current row of each key, and the keys of each file in its order."""

    current: dict[str, Row]
    keys: dict[str, list[str]]


@lru_cache(maxsize=50_000)
def plain(value: str) -> str:
    """A value as it is compared: 45.50 in one format is 45.5 in another.

    >>> plain("45.50"), plain("2026-09-03"), plain("0012")
    ('45.5', '2026-09-03', '0012')
    """
    return repr(float(value)) if _NUMBER.fullmatch(value) else value


def is_same(new: Row, old: Row) -> bool:
    """Whether the new row says nothing but what the old one says.

    A day with two readings says nothing new of a clear one; a clear day says something new of one with two readings.
    """
    return new.tag == old.tag and all(_says_nothing_new(new, old, field) for field in new.fields)


def _says_nothing_new(new: Row, old: Row, field: str) -> bool:
    said, before = new.values.get(field, ""), old.values.get(field, "")
    readings = new.candidates.get(field, ())
    return said == before or before in readings or (readings != () and readings == old.candidates.get(field))


def _fits(new: Row, old: Row, field: str) -> bool:
    return _says_nothing_new(new, old, field) or new.values.get(field, "") in old.candidates.get(field, ())


def likeness(new: Row, old: Row) -> float:
    """The share of cells, filled on either side, in which both say the same; the tag is not among them."""
    told = [field for field in new.fields if field in new.values or field in old.values]
    return sum(_fits(new, old, field) for field in told) / len(told) if told else 1.0


def pair(new: Sequence[Row], sent: Sent, before: str) -> Paired:
    """Pairs the rows of a new file with those sent before; `before` is the file whose place it took, if any.

    In a newer version edited rows and corrected codes are found too; in any other file only what came before
    in every cell, for a tag that stands in two sheets is asked about.
    """
    found = _by_tag(new, sent.current)
    older = before if before in sent.keys else _older(new, found, sent)
    if older:
        found |= _corrected_codes(new, found, sent, older)
    links = {
        row.place: (found[row.place], COPY if is_same(row, sent.current[found[row.place]]) else NEWER)
        for row in new
        if row.place in found
    }
    return Paired({place: link for place, link in links.items() if older or link[1] == COPY}, older)


def _by_tag(new: Sequence[Row], current: Mapping[str, Row]) -> dict[str, str]:
    """Rows with the same tag, those that say the same in every cell first; without a tag only these."""
    of_tag: dict[tuple[str, str], list[str]] = defaultdict(list)
    for key, row in current.items():
        of_tag[row.kind, row.tag].append(key)
    found: dict[str, str] = {}
    taken: set[str] = set()
    for wants_same in (True, False):
        for row in new:
            if row.place in found or not (wants_same or row.tag):
                continue
            free = (key for key in of_tag.get((row.kind, row.tag), ()) if key not in taken)
            key = next((key for key in free if not wants_same or is_same(row, current[key])), "")
            if key:
                found[row.place] = key
                taken.add(key)
    return found


def _older(new: Sequence[Row], found: Mapping[str, str], sent: Sent) -> str:
    """The file of which this is a newer version: most of the smaller of the two was seen in the other."""
    files: Counter[str] = Counter()
    for file, keys in sent.keys.items():
        files[file] = len(set(keys).intersection(found.values()))
    best = max(reversed(sent.keys), key=lambda file: files[file])  # of equals the last: a version of a version
    size = min(len(new), len(sent.keys[best]))
    of_best = set(sent.keys[best])
    pairs = [(row, sent.current[found[row.place]]) for row in new if found.get(row.place) in of_best]
    seen = sum(likeness(row, old) >= ALIKE for row, old in pairs)
    has_tags = len(pairs) >= TAGS_SHARED and len(pairs) >= TAGS_SHARE * size
    return best if pairs and (2 * seen >= size or has_tags) else ""


def _corrected_codes(new: Sequence[Row], found: Mapping[str, str], sent: Sent, older: str) -> dict[str, str]:
    """Rows left over on both sides that are one another but for the code: a slip apart, or alone between the same two.

    Only where one row fits, from both sides.
    """
    taken = set(found.values())
    old = [key for key in sent.keys[older] if key not in taken]
    left = [row for row in new if row.place not in found]
    between = _alone_between(new, found, sent.keys[older])
    wishes = {
        row.place: [
            key
            for key in old
            if row.kind == sent.current[key].kind
            and likeness(row, sent.current[key]) >= ALIKE
            and (between.get(row.place) == key or _is_slip(row.tag, sent.current[key].tag))
        ]
        for row in left
    }
    wished = Counter(key for keys in wishes.values() for key in keys)
    return {place: keys[0] for place, keys in wishes.items() if len(keys) == 1 and wished[keys[0]] == 1}


def _is_slip(one: str, other: str) -> bool:
    return bool(one and other) and Levenshtein.distance(one, other, score_cutoff=SLIP) <= SLIP


def _alone_between(new: Sequence[Row], found: Mapping[str, str], old: Sequence[str]) -> dict[str, str]:
    """The only new row between two known ones, and the only old row between the same two."""
    at = {key: number for number, key in enumerate(old)}
    anchors = [(-1, -1), *_anchors(new, found, at), (len(new), len(old))]
    return {
        new[first + 1].place: old[begin + 1]
        for (first, begin), (last, end) in pairwise(anchors)
        if last - first == 2 and end - begin == 2
    }


def _anchors(new: Iterable[Row], found: Mapping[str, str], at: Mapping[str, int]) -> list[tuple[int, int]]:
    return [(number, at[found[row.place]]) for number, row in enumerate(new) if found.get(row.place) in at]
