"""What the ledger remembers beside the cells: how rows came again, what was answered, what stands elsewhere."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

import pandas as pd

ANSWERS = ("key", "field", "choice", "value", "kind", "base_written", "base_value", "who", "ref")
ANSWERED = (
    "file", "file_sha256", "sheet", "row", "person_id", "ref", "typed", "value", "why", "outcome", "key", "field",
    "was", "answered", "number", "addressee", "rule", "is_open",
)  # fmt: skip
TOWN = "town|"  # before the name of a town, where an answer is about all rows that name it
WAIVERS = ("key", "rule", "fingerprint")
# A record of the ledger that is not looked at again in this run, or that was published before the first.
ELSEWHERE = (
    "tagCode", "recordKind", "person_id", "first_day", "last_day", "latitude", "longitude", "sex", "scientificName",
    "eventDate", "stateProvince", "metres", "occurrence_id", "state", "file", "sheet", "row",
)  # fmt: skip
NUMBERS = {"latitude": "float64", "longitude": "float64", "metres": "float64", "row": "int64"}
DAYS = {"first_day": "datetime64[s]", "last_day": "datetime64[s]"}


def nothing(columns: tuple[str, ...]) -> pd.DataFrame:
    """A table of texts without a line."""
    return pd.DataFrame({name: pd.Series(dtype="str") for name in columns})


def nothing_elsewhere() -> pd.DataFrame:
    """No record that stands elsewhere."""
    return nothing(ELSEWHERE).astype({**NUMBERS, **DAYS})


@dataclass(frozen=True)
class Remembered:
    """What is known of files, rows and answers from earlier runs; nothing for a look at single sheets.

    `order` by SHA-256: the order in which the files came. `links` by place: key, and copy or newer. `matched` by
    SHA-256 and person: the older file of which it is a newer version. `before` by SHA-256: the bytes that stood at
    the same path. `writers` by SHA-256: the address that a mail, or what came in it, is from. `senders` by SHA-256,
    `headings` and `given` by file and sheet: as answered. `sites` by the name of a town: latitude, longitude and metres
    as the coordinator gave them, "" where there is no point for it. `problems`: answer lines that did not come to
    rest, with the columns of ANSWERED. `at_rest`: places in files and fields of which nobody knows more.
    `withdrawn` by key: why. `is_whole`: every file is looked at, else those in scope, which carried `tags_before`.
    `answered_by`: who said what became of tags. `elsewhere` has the columns of ELSEWHERE.
    """

    order: Mapping[str, int] = field(default_factory=dict)
    links: Mapping[str, tuple[str, str]] = field(default_factory=dict)
    matched: Mapping[tuple[str, str], str] = field(default_factory=dict)
    before: Mapping[str, str] = field(default_factory=dict)
    senders: Mapping[str, str] = field(default_factory=dict)
    writers: Mapping[str, str] = field(default_factory=dict)
    headings: Mapping[tuple[str, str], Mapping[str, str]] = field(default_factory=dict)
    given: Mapping[tuple[str, str], Mapping[str, str]] = field(default_factory=dict)
    sites: Mapping[str, str] = field(default_factory=dict)
    answers: pd.DataFrame = field(default_factory=lambda: nothing(ANSWERS))
    waivers: pd.DataFrame = field(default_factory=lambda: nothing(WAIVERS))
    problems: pd.DataFrame = field(default_factory=lambda: nothing(ANSWERED))
    at_rest: frozenset[tuple[str, str]] = frozenset()
    withdrawn: Mapping[str, str] = field(default_factory=dict)
    is_whole: bool = True
    tags_before: frozenset[str] = frozenset()
    answered_by: frozenset[str] = frozenset()
    elsewhere: pd.DataFrame = field(default_factory=nothing_elsewhere)
