"""Tables to records: one frame for the whole run, every cell as typed, and where each value stands."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import zip_longest
from typing import NamedTuple

import pandas as pd

from pipeline.frames import Records
from pipeline.model import BLANK, TEXT, Table

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


class _Columns(NamedTuple):
    rows: list[int]
    texts: dict[str, list[str]]
    kinds: dict[str, list[str]]


def gather(tables: Sequence[Table], first_id: int = 0) -> Records:
    """The records of all tables, one line a row that is not left out."""
    columns = [_columns(table) for table in tables]
    names = sorted({name for one in columns for name in one.texts})
    sizes = [len(one.rows) for one in columns]
    sheets = [table.sheet for table in tables]
    of_tables: dict[str, pd.Series] = {
        "table_id": pd.Series(range(first_id, first_id + len(tables)), dtype="int64"),
        "file": pd.Series([sheet.file for sheet in sheets], dtype="str"),
        "file_sha256": pd.Series([sheet.file_sha256 for sheet in sheets], dtype="str"),
        "sheet": pd.Series([sheet.name for sheet in sheets], dtype="str"),
        "table": pd.Series([table.number for table in tables], dtype="int64"),
    }
    frame = {name: values.repeat(sizes).reset_index(drop=True) for name, values in of_tables.items()}
    frame["row"] = pd.Series([row for one in columns for row in one.rows], dtype="int64")
    for name in names:
        written = pd.Series(_stacked([one.texts.get(name) for one in columns], sizes, ""), dtype="str")
        # The mark with which cells are put side by side before they are read.
        frame[f"{name}_written"] = written.str.replace("\x1f", " ", regex=False)
        kinds = _stacked([one.kinds.get(name) for one in columns], sizes, BLANK)
        frame[f"{name}_kind"] = pd.Series(kinds, dtype="str")
    return Records(pd.DataFrame(frame), _places(tables, first_id))


def kept_rows(table: Table) -> list[int]:
    """The numbers of the rows that are records: below the heading, not left out, not blank."""
    texts = table.sheet.texts
    return [
        row
        for row in range(table.first_row, table.last_row + 1)
        if row not in table.left_out and any(cell.strip() for cell in texts[row - 1])
    ]


def _columns(table: Table) -> _Columns:
    rows = kept_rows(table)
    texts = list(zip_longest(*(table.sheet.texts[row - 1] for row in rows), fillvalue=""))
    kinds = list(zip_longest(*(table.sheet.kinds[row - 1] for row in rows), fillvalue=BLANK))
    named = [h for h in table.headings if h.field and h.field != "kept" and h.column < len(texts)]
    columns = _Columns(
        rows,
        {heading.field: list(texts[heading.column]) for heading in named},
        {heading.field: list(kinds[heading.column]) for heading in named},
    )
    for name, (text, _, _) in table.given_once.items():
        _fill(columns, name, text)
    return columns


def _fill(columns: _Columns, name: str, text: str) -> None:
    size = len(columns.rows)
    before = columns.texts.get(name, [""] * size)
    kinds = columns.kinds.get(name, [BLANK] * size)
    columns.kinds[name] = [kind if cell.strip() else TEXT for cell, kind in zip(before, kinds, strict=True)]
    columns.texts[name] = [cell if cell.strip() else text for cell in before]


def _stacked(chunks: Sequence[list[str] | None], sizes: Sequence[int], blank: str) -> list[str]:
    stacked: list[str] = []
    for chunk, size in zip(chunks, sizes, strict=True):
        stacked.extend(chunk if chunk is not None else [blank] * size)
    return stacked


def _places(tables: Sequence[Table], first_id: int) -> pd.DataFrame:
    lines = [
        (first_id + i, "", heading.field, 0, heading.column, heading.written, heading.hint)
        for i, table in enumerate(tables)
        for heading in table.headings
        if heading.field and heading.field != "kept"
    ]
    lines += [
        (first_id + i, "", name, row, column, "", "")
        for i, table in enumerate(tables)
        for name, (_, row, column) in table.given_once.items()
        if name not in {heading.field for heading in table.headings}
    ]
    lines += [
        (number, "", field, row, column, written, hint)
        for number, _, part, row, column, written, hint in list(lines)
        for field in FIELDS_OF_PART.get(part, ())
    ]
    names = ["table_id", "part", "field", "row", "column", "heading", "hint"]
    return pd.DataFrame(lines, columns=names).drop_duplicates(["table_id", "field"])
