"""Tables to records: one frame for the whole run, every cell as typed, and where each value stands."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import accumulate

import pandas as pd

from pipeline.frames import Records
from pipeline.model import BLANK, Table
from pipeline.values.filled import ABOVE, DITTO, NEVER
from pipeline.values.table_columns import FIELDS_OF_PART, Columns, columns_of

FLAGS = ("row_is_hidden", "row_is_struck")


def gather(tables: Sequence[Table], first_id: int = 0) -> Records:
    """The records of all tables, one line a row that is not left out; a row with several butterflies has several."""
    columns = [columns_of(table) for table in tables]
    names = sorted({name for one in columns for name in one.texts})
    sizes = [len(one.rows) for one in columns]
    sheets = [table.sheet for table in tables]
    of_tables: dict[str, pd.Series] = {
        "table_id": pd.Series(range(first_id, first_id + len(tables)), dtype="int64"),
        "file": pd.Series([sheet.file for sheet in sheets], dtype="str"),
        "file_sha256": pd.Series([sheet.file_sha256 for sheet in sheets], dtype="str"),
        "sheet": pd.Series([sheet.name for sheet in sheets], dtype="str"),
        "table": pd.Series([table.number for table in tables], dtype="int64"),
        "part": pd.Series([table.part for table in tables], dtype="str"),
    }
    frame = {name: values.repeat(sizes).reset_index(drop=True) for name, values in of_tables.items()}
    frame["row"] = pd.Series([row for one in columns for row in one.rows], dtype="int64")
    odd = [(sheet.hidden_rows, sheet.struck_rows) for sheet in sheets]
    for flag, rows in zip(FLAGS, zip(*odd, strict=True) if odd else ((), ()), strict=True):
        frame[flag] = _among(columns, rows)
    shifts = [shift for one in columns for shift in one.shifts]
    frame["row_shift"] = pd.Series(shifts, dtype="str")
    starts = [0, *accumulate(sizes)]
    filled = [
        (start + at, name, seen, why)
        for start, one in zip(starts, columns, strict=False)
        for at, name, seen, why in one.filled
    ]
    for name in names:
        written = pd.Series(_stacked([one.texts.get(name) for one in columns], sizes, ""), dtype="str")
        # The mark with which cells are put side by side before they are read.
        written = written.str.replace("\x1f", " ", regex=False)
        kinds = pd.Series(_stacked([one.kinds.get(name) for one in columns], sizes, BLANK), dtype="str")
        same = written.isin(list(DITTO)) if name not in NEVER else None
        if same is not None and same.any():
            above, kind_above = (one.where(~same).groupby(frame["table_id"]).ffill() for one in (written, kinds))
            same &= above.fillna("").str.strip() != ""  # with nothing above, a mark stays as it is
            filled += [(int(at), name, str(written[at]), ABOVE) for at in same.index[same]]
            written, kinds = written.where(~same, above).astype("str"), kinds.where(~same, kind_above).astype("str")
        frame[f"{name}_written"], frame[f"{name}_kind"] = written, kinds
    return Records(pd.DataFrame(frame), _places(tables, first_id), _filled(filled))


def _among(columns: Sequence[Columns], rows: Sequence[frozenset[int]]) -> pd.Series:
    """Which records stand in these rows of their sheets."""
    if not any(rows):
        return pd.Series(False, index=range(sum(len(one.rows) for one in columns)), dtype="bool")
    told = [row in some for one, some in zip(columns, rows, strict=True) for row in one.rows]
    return pd.Series(told, dtype="bool")


def _filled(lines: Iterable[tuple[int, str, str, str]]) -> pd.DataFrame:
    """The filled cells, a part under each field that it is put into."""
    told = [(at, field, seen, why) for at, name, seen, why in lines for field in FIELDS_OF_PART.get(name, (name,))]
    return pd.DataFrame(told, columns=["at", "field", "seen", "why"])


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
