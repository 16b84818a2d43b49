"""The columns of one table as lists: its records, their cells as typed, and what they mean where they do not say it."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import zip_longest
from typing import NamedTuple

from pipeline.model import BLANK, TEXT, Heading, Table
from pipeline.values.filled import MERGED, NEVER, Filled, merged_over, once_for_visits, sections
from pipeline.values.left_out import SECTION
from pipeline.values.shifted import shifted

# A part that stands in a column of its own, and the fields that it is put into.
FIELDS_OF_PART = {
    "coordinates": ("decimalLatitude", "decimalLongitude"),
    "latitudeDegrees": ("decimalLatitude",),
    "longitudeDegrees": ("decimalLongitude",),
    "easting": ("decimalLatitude", "decimalLongitude"),
    "mgrs": ("decimalLatitude", "decimalLongitude"),
    "day": ("eventDate",),
    "month": ("eventDate",),
    "tagDigits": ("tagCode",),
}


# A table without any of these says where it was in rows of their own, if anywhere.
PLACES = frozenset({"locality", "municipality", "county", "decimalLatitude", "latitudeDegrees", *FIELDS_OF_PART})


class Columns(NamedTuple):
    """The records of a table: row numbers, cells and kinds by field or part, cells filled, rows that were shifted."""

    rows: list[int]
    texts: dict[str, list[str]]
    kinds: dict[str, list[str]]
    filled: list[tuple[int, str, str, str]]  # place in `rows`, name, seen, why
    shifts: list[str]


def kept_rows(table: Table) -> list[int]:
    """The numbers of the rows that are records: below the heading, not left out, not blank.

    Of several butterflies in a row the first has the rows that none of the others has.
    """
    texts = table.sheet.texts
    kept = [
        row
        for row in range(table.first_row, table.last_row + 1)
        if row not in table.left_out and any(cell.strip() for cell in texts[row - 1])
    ]
    if not table.own:
        return kept
    return [
        row
        for row in kept
        if _holds(texts[row - 1], table.own) or (table.others and not _holds(texts[row - 1], table.others))
    ]


def _holds(row: tuple[str, ...], columns: frozenset[int]) -> bool:
    return any(column < len(row) and row[column].strip() for column in columns)


def columns_of(table: Table) -> Columns:
    """The columns of a table, with the text of merged cells, visits and sections put where they count."""
    rows = kept_rows(table)
    texts = list(zip_longest(*(table.sheet.texts[row - 1] for row in rows), fillvalue=""))
    kinds = list(zip_longest(*(table.sheet.kinds[row - 1] for row in rows), fillvalue=BLANK))
    named = [h for h in table.headings if h.field and h.field != "kept" and h.column < len(texts)]
    columns = Columns(
        rows,
        {heading.field: list(texts[heading.column]) for heading in named},
        {heading.field: list(kinds[heading.column]) for heading in named},
        [],
        _shifts(table, rows),
    )
    for heading in named if table.sheet.merged else ():
        _unmerge(columns, table, heading)
    visits = once_for_visits(columns.texts, columns.texts.get("tagCode") or columns.texts.get("tagDigits") or ())
    for name, told in visits.items():
        _put(columns, name, told)
    if rows and SECTION in table.left_out.values() and not PLACES & (columns.texts.keys() | table.given_once.keys()):
        said = {row: _only(table.sheet.texts[row - 1]) for row, why in table.left_out.items() if why == SECTION}
        columns.texts["locality"], columns.kinds["locality"] = [""] * len(rows), [BLANK] * len(rows)
        _put(columns, "locality", sections(rows, said))
    for name, (text, _, _) in table.given_once.items():
        _fill(columns, name, text)
    return columns


def _shifts(table: Table, rows: Sequence[int]) -> list[str]:
    at = {heading.field: heading.column for heading in table.headings}
    told = shifted({row: table.sheet.texts[row - 1] for row in rows}, at.get("tagCode", -1), at.get("eventDate", -1))
    return [told.get(row, "") for row in rows] if told else [""] * len(rows)


def _only(row: Sequence[str]) -> str:
    return next(text.strip() for text in row if text.strip())


def _unmerge(columns: Columns, table: Table, heading: Heading) -> None:
    """Gives every row of a merged cell its text, where the row says nothing itself."""
    if heading.field in NEVER:
        return
    for at, first in merged_over(columns.rows, heading.column, table.sheet.merged).items():
        text = table.sheet.texts[first - 1][heading.column]
        if not columns.texts[heading.field][at].strip() and text.strip():
            columns.texts[heading.field][at] = text
            columns.kinds[heading.field][at] = table.sheet.kinds[first - 1][heading.column]
            columns.filled.append((at, heading.field, "", MERGED))


def _put(columns: Columns, name: str, told: Filled) -> None:
    kind = BLANK
    for at in range(len(columns.rows)):
        if at in told:
            columns.texts[name][at], columns.kinds[name][at] = told[at][0], TEXT if kind == BLANK else kind
            columns.filled.append((at, name, "", told[at][1]))
        else:
            kind = columns.kinds[name][at]


def _fill(columns: Columns, name: str, text: str) -> None:
    size = len(columns.rows)
    before = columns.texts.get(name, [""] * size)
    kinds = columns.kinds.get(name, [BLANK] * size)
    columns.kinds[name] = [kind if cell.strip() else TEXT for cell, kind in zip(before, kinds, strict=True)]
    columns.texts[name] = [cell if cell.strip() else text for cell in before]
