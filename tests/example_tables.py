"""Reads the examples of a rule into the tables that the rule will see.

An example is a table as text: a heading line, then a line per row, `|` between cells, no outer bars;
every table of a text, parted by a blank line, has its own heading line. In a cell `""` is a blank,
quotation marks keep blanks at its ends, `¦` stands for a bar (`2026-09-03 ¦ 2026-03-09`).
Headings are fields, `<field>_written`, `_kind`, `_doubt`, `_candidates`, the facts of
schemas/looked_up.csv and the keys below; yes-no facts hold yes or no, days are ISO, a missing number or
day is blank. Beside them stand `found` (no: the row is there for context) and `suggests <field>`.
A column that is not named holds its default, or else a blank.
"""

from __future__ import annotations

import csv
from importlib.resources import files
from typing import NamedTuple

import pandas as pd

from pipeline.model import Scope
from pipeline.rules_page import example_tables

# What a person's table holds beside the fields and facts that a rule names.
KEYS = {"key": "text", "person_id": "text", "recordKind": "text", "table_id": "int", "row": "int"}

FILES = {
    "file": "text", "person_id": "text", "file_sha256": "text", "received": "day", "refusal": "text",
    "what": "text", "tables": "int", "sheets_with_data": "int", "sheet_names": "text", "rows_read": "int",
    "copy_of": "text", "is_sender_known": "yes-no", "writer": "text", "senders_told": "text",
    "instead": "text",
}  # fmt: skip

HEADINGS = {
    "table_id": "int", "person_id": "text", "file": "text", "file_sha256": "text", "sheet": "text",
    "table": "int", "row": "int", "column": "int", "heading": "text", "field": "text", "guess": "text",
    "also": "text", "is_missing": "yes-no", "is_needed": "yes-no", "some_needed_is_missing": "yes-no",
    "is_hidden": "yes-no",
}  # fmt: skip

ANSWERS = {
    "key": "text", "person_id": "text", "file": "text", "file_sha256": "text", "sheet": "text", "row": "int",
    "table_id": "int", "field": "text", "ref": "text", "number": "int", "typed": "text", "value": "text",
    "why": "text", "outcome": "text", "was": "text", "now": "text", "answered": "text", "answered_by": "text",
    "is_open": "yes-no", "rule_asked": "text", "tagCode": "text", "row_asked": "int", "file_asked": "text",
}  # fmt: skip

# What a column holds that an example does not name; all others are blank.
# `key` and `row` count from the first line, `tag_person_id` is the row's person,
# `release_last_day` is `release_day`,
# `<field>_written` is the field, `<field>_kind` is t, or - where the field is blank.
DEFAULTS = {
    "person_id": "anna",
    "file": "anna/tags.xlsx",
    "file_sha256": "5a" * 32,
    "sheet": "Sheet1",
    "sheet_names": "Sheet1",
    "table": "1",
    "table_id": "1",
    "tables": "1",
    "sheets_with_data": "1",
    "rows_read": "10",
    "recordKind": "release",
    "received": "2026-11-25",
    "season": "2026",
    "tag_season": "2026",
    "tag_status": "allotted",
    "tag_shape": "like SM0001",
    "rows_of_tag": "1",
    "people_of_tag": "1",
    "days_outside_season": "0",
    "is_sender_known": "yes",
    "is_allotment_known": "yes",
    "tag_shape_fits": "yes",
    "species_is_allowed": "yes",
    "is_in_region": "yes",
    "ref": "53Y3ZEC",
    "number": "3",
    "typed": "yes",
    "answered_by": "anna",
    "is_open": "yes",
    "rule_asked": "day_not_read",
    "row_asked": "12",
    "file_asked": "anna/tags.xlsx",
}

_SAME_AS = {"tag_person_id": "person_id", "release_last_day": "release_day"}
_NOT_DATA = ("found", "suggests ")
_FIRST_ROW = 2  # the heading stands in row 1


class Example(NamedTuple):
    """One table of an example: what the rule sees, the rows it must find, the suggestions it must give."""

    cells: pd.DataFrame
    found: pd.Series[bool]
    suggested: dict[str, pd.Series[str]]


def read_examples(text: str, scope: Scope) -> list[Example]:
    """The tables of an example text, each with every column that a rule of this scope could read."""
    return [_read(lines, column_types(scope)) for lines in example_tables(text)]


def empty(scope: Scope) -> pd.DataFrame:
    """A table without rows, as a rule of this scope sees it in a season in which nothing came."""
    types = column_types(scope)
    return pd.DataFrame({name: _typed([], kind, pd.RangeIndex(0)) for name, kind in types.items()})


def column_types(scope: Scope) -> dict[str, str]:
    """Every column of the table that a rule of this scope sees, with its type."""
    if scope == "file":
        return FILES
    if scope == "heading":
        return HEADINGS
    if scope == "answer":
        return ANSWERS
    return KEYS | field_columns() | {line["column"]: line["type"] for line in _schema("looked_up.csv")}


def field_columns() -> dict[str, str]:
    """The columns of every field: standard form, as written, kind, doubt and candidates."""
    fields = [line["field"] for line in _schema("fields.csv")]
    suffixes = ("", "_written", "_kind", "_doubt", "_candidates")
    return {field + suffix: "text" for field in fields for suffix in suffixes}


def _schema(name: str) -> list[dict[str, str]]:
    text = files("schemas").joinpath(name).read_text(encoding="utf-8")
    return list(csv.DictReader(text.splitlines()))


def _read(lines: list[list[str]], types: dict[str, str]) -> Example:
    heading, *body = lines
    given = _columns(heading, body, set(types))
    index = pd.RangeIndex(100, 100 + len(body))  # not from 0: a rule must keep to the index it was given
    cells = {name: _typed(_cells(name, given, len(body)), kind, index) for name, kind in types.items()}
    found = pd.Series([cell != "no" for cell in given.get("found", [""] * len(body))], index, dtype=bool)
    suggested = {
        name.removeprefix("suggests "): _typed(texts, "text", index)
        for name, texts in given.items()
        if name.startswith("suggests ")
    }
    return Example(pd.DataFrame(cells), found, suggested)


def _columns(heading: list[str], body: list[list[str]], known: set[str]) -> dict[str, list[str]]:
    unknown = [name for name in heading if name not in known and not name.startswith(_NOT_DATA)]
    uneven = [line for line in body if len(line) != len(heading)]
    if unknown or uneven or len(set(heading)) < len(heading) or not body:
        raise ValueError(f"unknown columns {unknown}, uneven lines {uneven} under {heading}")
    return {name: [_unquoted(line[at]) for line in body] for at, name in enumerate(heading)}


def _unquoted(cell: str) -> str:
    return cell[1:-1] if len(cell) > 1 and cell[0] == cell[-1] == '"' else cell


def _cells(name: str, given: dict[str, list[str]], length: int) -> list[str]:
    if name in given:
        return given[name]
    if name in ("key", "row", "column"):
        return [f"key-{at}" if name == "key" else str(_FIRST_ROW + at) for at in range(length)]
    if name in _SAME_AS:
        return _cells(_SAME_AS[name], given, length)
    if name.endswith("_written"):
        return _cells(name.removesuffix("_written"), given, length)
    if name.endswith("_kind"):
        return ["t" if cell else "-" for cell in _cells(name.removesuffix("_kind"), given, length)]
    return [DEFAULTS.get(name, "")] * length


def _typed(texts: list[str], kind: str, index: pd.RangeIndex) -> pd.Series:
    if kind == "yes-no":
        return pd.Series([{"yes": True, "no": False, "": False}[text] for text in texts], index, dtype=bool)
    if kind == "day":
        return pd.Series(pd.to_datetime(texts, format="%Y-%m-%d"), index).astype("datetime64[s]")
    if kind == "number":
        return pd.Series([float(text) if text else float("nan") for text in texts], index, dtype="float64")
    if kind == "int":
        return pd.Series([int(text or 0) for text in texts], index, dtype="int64")
    return pd.Series(texts, index, dtype="str")
