"""Slips in the coordinator's own tables, each in one plain line."""

from __future__ import annotations

import re
from collections.abc import Sequence

from pipeline.values.allotment import Range
from pipeline.values.codes import Codes
from pipeline.values.orcid import orcid_address
from pipeline.values.sensitive import slip_in

STATUSES = ("", "allotted", "kept", "returned", "lost", "spoiled")
Lines = tuple[dict[str, str], ...]


def people_slips(people: Lines) -> list[str]:
    """What is wrong in people.csv."""
    slips, seen = [], dict[str, int]()
    for number, line in enumerate(people, start=2):
        person = line["person_id"]
        if not re.fullmatch(r"[A-Za-z0-9_-]+", person):
            slips.append(f"people.csv line {number}: the person_id {person!r} may hold letters, digits, - and _ only.")
        elif person.lower() in seen:
            slips.append(f"people.csv line {number}: the person_id {person} stands in line {seen[person.lower()]} too.")
        seen[person.lower()] = number
        if line.get("orcid") and not orcid_address(line["orcid"]):
            slips.append(f"people.csv line {number}: {line['orcid']!r} is not an ORCID: is a digit wrong?")
        for name in ("minor", "publish_name"):
            if line[name] not in ("", "yes", "no"):
                slips.append(f"people.csv line {number}: {name} is {line[name]!r}; write yes or no.")
    return slips


def tag_slips(ranges: Sequence[Range], people: Lines) -> list[str]:
    """What is wrong in tags.csv, as far as its ranges could be read."""
    slips, known = [], {line["person_id"] for line in people}
    crossing = _crossing(ranges)
    holders: dict[str, dict[str, int]] = {}
    for number, line in enumerate(ranges, start=2):
        if line.status not in STATUSES:
            slips.append(f"tags.csv line {number}: the status {line.status!r} is not one of {', '.join(STATUSES[1:])}.")
        if line.person_id and line.person_id not in known:
            slips.append(f"tags.csv line {number}: nobody in people.csv has the person_id {line.person_id}.")
        if number in crossing:
            slips.extend(_overlap(number, ranges, holders.setdefault(line.season, {})))
    return slips


def sensitive_slips(lines: Lines) -> list[str]:
    """What is wrong in sensitive_places.csv."""
    return [f"sensitive_places.csv line {at}: {slip}." for at, line in enumerate(lines, 2) if (slip := slip_in(line))]


def _crossing(ranges: Sequence[Range]) -> set[int]:
    """The numbers of the lines that share a code with another line of their season."""
    kinds: dict[tuple[str, tuple[str, str]], list[tuple[int, int, int]]] = {}
    for number, line in enumerate(ranges, start=2):
        if isinstance(line.codes, Codes):
            span = (line.codes.start, line.codes.end, number)
            kinds.setdefault((line.season, line.codes.key), []).append(span)
    crossing: set[int] = set()
    for spans in kinds.values():
        furthest, before = -1, 0
        for start, end, number in sorted(spans):
            if start <= furthest:
                crossing |= {before, number}
            if end > furthest:
                furthest, before = end, number
    return crossing


def _overlap(number: int, ranges: Sequence[Range], holders: dict[str, int]) -> list[str]:
    """The first code of the line that another person holds; else the line is taken down as the holder of its codes."""
    line = ranges[number - 2]
    if line.status == "returned":
        for code in line.codes:
            holders.pop(code, None)
    if line.status not in ("", "allotted"):
        return []
    held = sorted(holders.keys() & set(line.codes))
    others = [code for code in held if ranges[holders[code] - 2].person_id != line.person_id]
    if others:
        before = ranges[holders[held[0]] - 2].person_id
        return [f"tags.csv line {number}: {held[0]} was already handed to {before} in line {holders[held[0]]}."]
    holders.update(dict.fromkeys(line.codes, number))
    return []
