"""Tables of which each row holds several butterflies, or only the day of a month that the sheet is named after."""

from __future__ import annotations

from dataclasses import replace

from pipeline.model import Heading, Table
from pipeline.values.column_groups import groups_of, shared_by
from pipeline.values.heading import HeadingNames
from pipeline.values.month_tab import are_days_of_a_month, month_of


def each_butterfly(table: Table, names: HeadingNames) -> tuple[Table, ...]:
    """A table for each butterfly of a row, with the headings that they share; the table itself where a row has one."""
    groups = groups_of(table.headings, names)
    if not groups:
        return (table,)
    shared = shared_by(table.headings, groups)
    columns = [frozenset(heading.column for heading in group) for group in groups]
    others = frozenset[int]().union(*columns[1:])
    tables = []
    for number, (group, own) in enumerate(zip(groups, columns, strict=True), start=1):
        headings = tuple(sorted((*shared, *group), key=lambda heading: heading.column))
        first = number == 1
        tables.append(
            replace(
                table, headings=headings, part=".".join(filter(None, (table.part, str(number)))), own=own,
                others=others if first else frozenset(), left_out=table.left_out if first else {},
            )
        )  # fmt: skip
    return tuple(tables)


def in_its_month(table: Table) -> Table:
    """A table whose days are bare numbers, with the month and the year that its sheet is named after."""
    at = next((number for number, heading in enumerate(table.headings) if heading.field == "eventDate"), -1)
    month, year = ("", "") if at < 0 else _month_said(table)
    if not month or not are_days_of_a_month(_column(table, table.headings[at])):
        return table
    headings = [*table.headings]
    headings[at] = replace(headings[at], field="day")
    given = {"month": (month, 0, -1), **({"year": (year, 0, -1)} if year else {}), **table.given_once}
    return replace(table, headings=tuple(headings), given_once=given)


def _month_said(table: Table) -> tuple[str, str]:
    above = table.given_once.get("month", ("",))[0]
    month, year = month_of(above) if above else month_of(table.sheet.name)
    return month or above, table.given_once.get("year", (year,))[0]


def _column(table: Table, heading: Heading) -> list[str]:
    rows = range(table.first_row, table.last_row + 1)
    texts = (table.sheet.texts[row - 1] for row in rows if row not in table.left_out)
    return [row[heading.column] if heading.column < len(row) else "" for row in texts]
