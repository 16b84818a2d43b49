"""Sheets to tables: where each table stands, which heading is which field, which rows are no records."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from pipeline.model import Heading, Sheet, Table
from pipeline.values.given_once import Given, given_once, title_rows
from pipeline.values.heading import KEPT, HeadingNames, match_heading
from pipeline.values.heading_row import fields_known, match_headings
from pipeline.values.left_out import REPEATED, SECTION, Plan, why_left_out

OTHER = "another heading"
DEPTH = 30  # rows looked through for the first heading row
SURE = 3  # known headings in one row, with more known than unknown

# In the day's column a day, in the tag's column figures without blank or colon: a record at first sight.
_DAY = re.compile(r"\s*\d+[-/]\d")
_CODE = re.compile(r"\s*[^\s:]*\d[^\s:]*\s*")
_DATA = re.compile(r"\d{3}|(?:^|\t)[^\w\t]*\d+[^\w\t]*(?:\t|$)")  # a cell that no heading row has
_NAMES = frozenset({"locality", "municipality", "county", "stateProvince", "countryCode", "recordedBy"})


def map_headings(sheet: Sheet, names: HeadingNames) -> tuple[Table, ...]:
    """The tables of a sheet from top to bottom, () where no heading row is found.

    A row below a heading is a record unless it is blank or stands in `left_out` with its reason.
    What is said above a table holds for those below too, until it is said anew.
    """
    start = _first_heading(sheet, names)
    tables: list[Table] = []
    given: Given = {}
    titles: Sequence[int] = range(max(start, 0))
    while start >= 0:
        given = given | given_once(sheet.texts, titles, names)
        table, start = _table(sheet, names, start, given)
        titles = title_rows(sheet.texts, table.heading_row, start, names)
        tables.append(replace(table, number=len(tables) + 1))
    return tuple(tables)


def _first_heading(sheet: Sheet, names: HeadingNames) -> int:
    """Index of the row with the most known headings, -1 if none; a row that is surely one ends the search."""
    best, most = -1, 0
    for i, row in enumerate(sheet.texts[:DEPTH]):
        known = {field for _, field in fields_known(row, names)}
        if len(known) < 2 and not _is_only_heading(sheet, i, names):
            continue
        filled = sum(1 for text in row if text.strip())
        if len(known) >= SURE and len(known) * 2 > filled:
            return i if "tagCode" in known else _heading_below(sheet.texts, i, names)
        is_share = len(known) >= SURE or len(known) * 3 >= filled
        if len(known) > most and is_share and not _holds_data(row, sheet.kinds[i]):
            best, most = i, len(known)
    return best if best >= 0 else _near_heading(sheet, names)


def _heading_below(texts: Sequence[tuple[str, ...]], i: int, names: HeadingNames) -> int:
    """The row at `i`, or a heading row with the tag close below where `i` only holds labels."""
    filled = [j for j in range(i + 1, min(i + DEPTH, len(texts))) if any(text.strip() for text in texts[j])]
    for j in filled[:2]:
        known = {field for _, field in fields_known(texts[j], names)}
        if "tagCode" in known and len(known) >= SURE:
            return j
    return i


def _is_only_heading(sheet: Sheet, i: int, names: HeadingNames) -> bool:
    """The row is the one heading of a sheet with a single column."""
    known = fields_known(sheet.texts[i], names)
    column = known[0][0] if known else -1
    return known[:1] == ((column, "tagCode"),) and not any(
        text.strip() for row in sheet.texts for j, text in enumerate(row) if j != column
    )


def _near_heading(sheet: Sheet, names: HeadingNames) -> int:
    """Index of the first row most of whose cells are at least near to headings."""
    for i, row in enumerate(sheet.texts[:DEPTH]):
        texts = [text for text in row if text.strip()]
        if len(texts) < 2 or _holds_data(row, sheet.kinds[i]):
            continue
        fields = {match_heading(text, names).field for text in texts} - {"", KEPT}
        if len(fields) >= 2 and len(fields) * 2 > len(texts):
            return i
    return -1


def _holds_data(row: tuple[str, ...], kinds: str) -> bool:
    return any(kind in "ndc" or text.strip()[:1].isdigit() for text, kind in zip(row, kinds, strict=False))


def _table(sheet: Sheet, names: HeadingNames, start: int, given: Given) -> tuple[Table, int]:
    """The table whose heading is the row at `start`, and where the next one's heading is, -1 if none is."""
    headings = match_headings(sheet.texts[start], names)
    plan = _plan(headings, names)
    left_out: dict[int, str] = {}
    last, following = start + 1, -1
    for i in range(start + 1, len(sheet.texts)):
        row = sheet.texts[i]
        if not _is_record_at_sight(row, plan):
            again = _heading_again(row, headings, names)
            if again == OTHER:
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
