"""Sheets to tables: where each table stands, which heading is which field, which rows are no records."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from typing import NamedTuple

from pipeline.model import Heading, Sheet, Table
from pipeline.values.butterflies import each_butterfly, in_its_month
from pipeline.values.column_groups import side_by_side
from pipeline.values.first_heading import SURE, first_heading
from pipeline.values.given_once import Given, given_once, title_rows
from pipeline.values.head_rows import head_at
from pipeline.values.heading import KEPT, HeadingNames
from pipeline.values.heading_row import fields_known, match_headings
from pipeline.values.left_out import REPEATED, SECTION, Plan, why_left_out

OTHER = "another heading"

# In the day's column a day, in the tag's column figures without blank or colon: a record at first sight.
_DAY = re.compile(r"\s*\d+[-/]\d")
_CODE = re.compile(r"\s*[^\s:]*\d[^\s:]*\s*")
_DATA = re.compile(r"\d{3}|(?:^|\t)[^\w\t]*\d+[^\w\t]*(?:\t|$)")  # a cell that no heading row has
_NAMES = frozenset({"locality", "municipality", "county", "stateProvince", "countryCode", "recordedBy"})


class _Head(NamedTuple):
    """The headings of a table, in one row or joined from two, and the last of these rows, counted from 0."""

    texts: tuple[str, ...]
    row: int


def map_headings(sheet: Sheet, names: HeadingNames) -> tuple[Table, ...]:
    """The tables of a sheet from top to bottom and left to right, () where no heading row is found.

    A row below a heading is a record unless it is blank or stands in `left_out` with its reason.
    What is said above a table holds for those below too, until it is said anew.
    """
    start = first_heading(sheet, names)
    tables: list[Table] = []
    given: Given = {}
    titles: Sequence[int] = range(max(start, 0))
    while start >= 0:
        head, last = head_at(sheet.texts, start, names, not tables)
        given = given | given_once(sheet.texts, [at for at in titles if at < last and at != start], names)
        above = {start + 1: REPEATED} if tables and start < last else {}
        found, start = _beside(sheet, names, _Head(head, last), given)
        found[0] = replace(found[0], left_out=above | found[0].left_out)
        titles = title_rows(sheet.texts, last + 1, start, names)
        tables += [replace(table, number=len(tables) + at) for at, table in enumerate(found, start=1)]
    return tuple(butterfly for table in tables for butterfly in each_butterfly(in_its_month(table), names))


def _beside(sheet: Sheet, names: HeadingNames, head: _Head, given: Given) -> tuple[list[Table], int]:
    """The table or tables under one heading row, and where the next one's heading is, -1 if none is."""
    spans = side_by_side(head.texts, names)
    if not spans:
        table, following = _table(sheet, names, head, given)
        return [table], following
    tables, next_heads = [], []
    for number, (first, last) in enumerate(spans, start=1):
        texts = tuple(_within(row, first, last) for row in sheet.texts)
        part = replace(sheet, texts=texts)
        table, following = _table(part, names, _Head(_within(head.texts, first, last), head.row), given)
        own = frozenset(range(first, max(last + 1, *(heading.column + 1 for heading in table.headings))))
        tables.append(replace(table, sheet=sheet, part=str(number), own=own))
        next_heads += [following] * (following >= 0)
    following = min(next_heads, default=-1)
    return [_up_to(table, following) for table in tables], following


def _within(row: tuple[str, ...], first: int, last: int) -> tuple[str, ...]:
    return tuple(text if first <= column <= last else "" for column, text in enumerate(row))


def _up_to(table: Table, following: int) -> Table:
    """A table that ends above the next heading row, which may stand below another one only."""
    if following < 0:
        return table
    left_out = {row: reason for row, reason in table.left_out.items() if row <= following}
    return replace(table, last_row=min(table.last_row, following), left_out=left_out)


def _table(sheet: Sheet, names: HeadingNames, head: _Head, given: Given) -> tuple[Table, int]:
    """The table under a heading row, and where the next one's heading is, -1 if none is."""
    start = head.row
    headings = match_headings(head.texts, names, frozenset(given))
    plan = _plan(headings, names)
    left_out: dict[int, str] = {}
    last, following = start + 1, -1
    for i in range(start + 1, len(sheet.texts)):
        row = sheet.texts[i]
        if not _is_record_at_sight(row, plan):
            again = _heading_again(row, headings, names)
            if again == OTHER or (again and title_rows(sheet.texts, start + 1, i, names)):
                following = i
                break
            if reason := again or why_left_out(row, sheet.kinds[i], plan):
                left_out[i + 1] = reason
            elif not any(text.strip() for text in row):
                continue
        last = i + 1
    titles = title_rows(sheet.texts, start + 1, following, names)
    left_out |= {i + 1: SECTION for i in titles}
    headings += _unnamed(sheet.texts[start + 1 : last], headings, left_out, start + 2)
    in_order = tuple(sorted(headings, key=lambda heading: heading.column))
    return Table(sheet, 0, start + 1, in_order, start + 2, last, left_out, given), following


def _is_record_at_sight(row: tuple[str, ...], plan: Plan) -> bool:
    """The row has a plain day, or something like a code under its tag's heading and nothing before it."""
    if 0 <= plan.day < len(row) and _DAY.match(row[plan.day]):
        return True
    if not 0 <= plan.tag < len(row) or not _CODE.fullmatch(row[plan.tag]) or any(row[: plan.tag]):
        return False
    return row[plan.tag].strip() != plan.headings[plan.tag]


def _plan(headings: Sequence[Heading], names: HeadingNames) -> Plan:
    columns = {heading.field: heading.column for heading in headings if heading.field != KEPT}
    return Plan(
        {heading.column: heading.written.strip() for heading in headings},
        columns.get("tagCode", -1),
        columns.get("eventDate", -1),
        frozenset(column for field, column in columns.items() if field in names.needed),
        frozenset(column for field, column in columns.items() if field in _NAMES),
    )


def _heading_again(row: tuple[str, ...], headings: Sequence[Heading], names: HeadingNames) -> str:
    """REPEATED or OTHER where the row is surely a heading row: that above said again, or another one."""
    filled = sum(1 for text in row if text.strip())
    if filled < SURE or _DATA.search("\t".join(row)):
        return ""
    known = fields_known(row, names)
    if len({field for _, field in known}) < SURE or len(known) * 2 <= filled:
        return ""
    above = {heading.column: heading.field for heading in headings}
    same = sum(1 for column, field in known if above.get(column) == field)
    return REPEATED if same * 2 >= len(known) else OTHER


def _unnamed(
    rows: Sequence[tuple[str, ...]], headings: Sequence[Heading], left_out: dict[int, str], first_row: int
) -> tuple[Heading, ...]:
    """Columns without a heading that hold something in a record."""
    named = {heading.column for heading in headings}
    width = max(map(len, rows), default=0)
    return tuple(
        Heading(column, "")
        for column in range(width)
        if column not in named
        and any(
            column < len(row) and row[column].strip() and i + first_row not in left_out for i, row in enumerate(rows)
        )
    )
