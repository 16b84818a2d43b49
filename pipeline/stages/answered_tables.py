"""Puts answers about whole tables in: which field a heading names, what a missing column would have said."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from pipeline.model import Heading, Table

Place = tuple[str, str]  # SHA-256 of the file, sheet


def with_answers(
    tables: Sequence[Table],
    headings: Mapping[Place, Mapping[str, str]],
    given: Mapping[Place, Mapping[str, str]],
) -> tuple[Table, ...]:
    """The tables with `headings` (as written: field) taken as answered and `given` (field: text) for all their rows."""
    return tuple(_with_answers(table, headings, given) for table in tables)


def _with_answers(
    table: Table, headings: Mapping[Place, Mapping[str, str]], given: Mapping[Place, Mapping[str, str]]
) -> Table:
    place = (table.sheet.file_sha256, table.sheet.name)
    named = headings.get(place, {})
    if named:
        table = replace(table, headings=tuple(_taken_as(heading, named) for heading in table.headings))
    said = {field: (text, 0, -1) for field, text in given.get(place, {}).items()}
    return replace(table, given_once={**table.given_once, **said}) if said else table


def _taken_as(heading: Heading, named: Mapping[str, str]) -> Heading:
    if heading.written in named:
        return replace(heading, field=named[heading.written], guess="")
    # Two columns for one field: what the other one names is left to the answered one.
    if heading.field and heading.field in named.values():
        return replace(heading, field="", guess="")
    return heading
