"""How a row's cells become cells of the portal: kept back, only from a list, never like a formula."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import pandas as pd

NUMBER = r"[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?"
FORMULA = r"[=@\t\r\n\x00+\-＝＠＋－]"


def kept(rows: pd.DataFrame, field: str) -> pd.Series:
    """A field's values, blank where a question about it is open."""
    withheld = (" " + rows["withheld"] + " ").str.contains(f" {field} ", regex=False)
    return rows[field].mask(withheld, "")


def of_list(values: pd.Series, words: Sequence[str]) -> pd.Series:
    """The values that are one of the words, others blank."""
    return values.where(values.isin(list(words)), "")


def matching(values: pd.Series, pattern: str) -> pd.Series:
    """The values that the pattern fits whole, others blank."""
    return values.where(values.str.fullmatch(pattern), "")


def joined(notes: Iterable[tuple[str, pd.Series]]) -> pd.Series:
    """The words whose condition holds, parted by a bar as the standard has it."""
    text: pd.Series | None = None
    for words, holds in notes:
        own = pd.Series("", index=holds.index, dtype="str").mask(holds, " | " + words)
        text = own if text is None else text + own
    assert text is not None
    return text.str.removeprefix(" | ")


def safe(table: pd.DataFrame) -> pd.DataFrame:
    """The table as text without control characters, and without cells that a spreadsheet would run."""
    clean = {}
    for column in table.columns:
        cells = table[column].astype("str").str.replace(r"[\x00-\x1f\x7f]+", " ", regex=True).str.strip()
        runs = cells.str.match(FORMULA) & ~cells.str.fullmatch(NUMBER)
        clean[column] = cells.mask(runs, "")
    return pd.DataFrame(clean, columns=table.columns, dtype="str").reset_index(drop=True)
