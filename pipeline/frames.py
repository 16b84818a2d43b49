"""The tables that flow between stages, each named with its columns."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

import pandas as pd

FINDING_COLUMNS = (
    "key", "person_id", "file", "file_sha256", "sheet", "table_id", "row", "column", "field", "rule",
    "severity", "asks", "seen", "suggestion", "message", "state", "words", "fingerprint", "value",
)  # fmt: skip


class Records(NamedTuple):
    """The records as typed, and where their values stand.

    `rows`: table_id, file, file_sha256, sheet, table, row, part, what is odd about the row as a whole, and
    `<name>_written`, `<name>_kind` for every field or part that any table has. `filled`: place in `rows`, field,
    seen, why, of cells that mean what stands above them and hold it now. `places`: table_id, part, field, row (0 if
    the record's own), column (counted from 0), heading, hint.
    """

    rows: pd.DataFrame
    places: pd.DataFrame
    filled: pd.DataFrame


class Normalised(NamedTuple):
    """The records in standard form, and what was rewritten on the way.

    `rows`: for every field `<field>`, `<field>_written`, `<field>_kind`, `<field>_doubt`, `<field>_candidates`.
    `changes`: index of the row, field, seen, became, why.
    """

    rows: pd.DataFrame
    changes: pd.DataFrame


class Counted(NamedTuple):
    """The ledger in counts.

    `states`: person_id, state, rows. `of_run` by state: rows of the files that came in this run. `left_out` by
    reason. `never_allotted`: released tags that nobody was handed. `tags` by person: what became of the season's
    tags, in counts, and those not heard of. `findings`: rule, severity, asks, findings, of those open or noted.
    `questions`: the open ones, a line each with ref, addressee, rule, severity.
    """

    states: pd.DataFrame
    of_run: Mapping[str, int]
    left_out: dict[str, int]
    never_allotted: int
    tags: Mapping[str, tuple[dict[str, int], list[str]]]
    findings: pd.DataFrame
    questions: pd.DataFrame


def known_of(values: pd.Series, known: Mapping[Any, str] | pd.Series) -> pd.Series:
    """What is known of each value as text, blank where nothing is."""
    found = values.map(known)
    return found.astype("str").where(found.notna(), "")


def is_among(values: pd.Series, known: pd.Series | pd.Index | Sequence[str]) -> pd.Series:
    """Which values stand among the known ones; for long lists, where `isin` takes a second."""
    places = pd.Index(known).unique().get_indexer(pd.Index(values))
    return pd.Series(places >= 0, index=values.index)


def rows_where(table: pd.DataFrame, wanted: pd.Series) -> pd.DataFrame:
    """The wanted rows of a wide table; columns that say the same throughout are not gathered cell by cell."""
    if wanted.all():
        return table
    index = table.index[wanted.to_numpy()]
    same: dict[Any, pd.Series] = {}
    columns = {}
    for name in table.columns:
        column = table[name]
        first = column.iloc[0]
        if isinstance(first, str) and bool((column == first).all()):
            columns[name] = same.setdefault(first, pd.Series(first, index=index, dtype="str"))
        else:
            columns[name] = column[wanted]
    return pd.DataFrame(columns)


def lines_of(table: pd.DataFrame) -> list[dict[str, Any]]:
    """The lines of a table as one dict each, columns by name."""
    return [
        dict(zip(map(str, table.columns), cells, strict=True)) for cells in table.itertuples(index=False, name=None)
    ]


def letter(column: int) -> str:
    """The letter by which a spreadsheet calls the column counted from 0; blank below 0.

    >>> letter(0), letter(25), letter(26), letter(701), letter(-1)
    ('A', 'Z', 'AA', 'ZZ', '')
    """
    name = ""
    while column >= 0:
        name = chr(65 + column % 26) + name
        column = column // 26 - 1
    return name
