"""Sheets that come again: which row is which, what each says now, what was left out or sorted by itself."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pipeline.stages.come_again import ADDRESS, ASPECTS, CameAgain, Known, come_again
from pipeline.stages.come_again.pairs import plain

FIELDS = ("tagCode", "recordKind", "eventDate", "sex", "municipality", "decimalLatitude", "forewingLength", "tagFate")
HEAD = ("tagCode", "eventDate", "sex", "municipality", "forewingLength")
Line = tuple[str, ...]
SHEET: tuple[Line, ...] = (
    ("AB0001", "2026-09-03", "male", "Sackville", "51"),
    ("AB0012", "2026-09-04", "female", "Amherst", "48"),
    ("AB0023", "2026-09-07", "male", "Tignish", "53"),
    ("AB0034", "2026-09-11", "female", "Sackville", "47"),
    ("AB0045", "2026-09-12", "male", "Amherst", "52"),
    ("AB0056", "2026-09-16", "female", "Tignish", "49"),
    ("AB0067", "2026-09-21", "male", "Sackville", "50"),
    ("AB0078", "2026-09-23", "female", "Amherst", "46"),
)


class File(NamedTuple):
    """A file as it was read; its name stands for its bytes, the heading is in row 1."""

    name: str
    lines: Sequence[Line]
    head: Line = HEAD
    person: str = "p1"
    aspects: Mapping[str, Sequence[str]] = {}  # `eventDate_candidates` and the like, a text for each line


def rows_of(*files: File) -> pd.DataFrame:
    """The rows of all files, each with the key of its place, "b:3" for row 3 of file b."""
    told = [_row(table, file, at) for table, file in enumerate(files) for at in range(len(file.lines))]
    names = [*ADDRESS, "table_id", *(field + aspect for field in FIELDS for aspect in ASPECTS)]
    frame = pd.DataFrame(told, columns=list(dict.fromkeys(names)))
    return frame.astype({name: "int64" if name in ("table_id", "row") else "str" for name in frame.columns})


def _row(table: int, file: File, at: int) -> dict[str, Any]:
    said = {"recordKind": "release", **dict(zip(file.head, file.lines[at], strict=True))}
    row: dict[str, Any] = {
        "file": f"p1/{file.name}.csv", "file_sha256": file.name, "sheet": "", "row": at + 2, "part": "",
        "key": f"{file.name}:{at + 2}", "person_id": file.person, "table_id": table,
    }  # fmt: skip
    for field in FIELDS:
        text = said.get(field, "")
        row |= {field: text, f"{field}_written": text, f"{field}_kind": "t" if text else "-"}
        row |= {f"{field}_doubt": "", f"{field}_candidates": ""}
    return row | {name: texts[at] for name, texts in file.aspects.items()}


def places_of(*files: File) -> pd.DataFrame:
    placed = [(table, field) for table, file in enumerate(files) for field in file.head]
    return pd.DataFrame(placed, columns=["table_id", "field"])


def known_of(*files: File, before: Mapping[str, str] | None = None, after: CameAgain | None = None) -> Known:
    """What the ledger remembers when these files came in this order; `after`, what it learnt in an earlier run."""
    return Known(after.links if after else {}, after.matched if after else {}, order, before or {})


def came(*files: File, before: Mapping[str, str] | None = None) -> CameAgain:
    """All these files looked at in one run."""
    return come_again(rows_of(*files), places_of(*files), known_of(*files, before=before))


def how(again: CameAgain, file: File) -> list[str]:
    """What each row of a file is: "copy a:2", "newer a:2", or new."""
    places = [f"{file.name}:{at + 2}" for at in range(len(file.lines))]
    return [" ".join(reversed(again.links[place])) if place in again.links else "new" for place in places]


def current(again: CameAgain, key: str) -> dict[str, Any]:
    (row,) = again.rows[again.rows["key"] == key].to_dict("records")
    return {str(name): value for name, value in row.items()}
