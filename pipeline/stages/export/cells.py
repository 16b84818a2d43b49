"""How a row's cells become cells of the portal: kept back, only from a list, never like a formula."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import pandas as pd

NUMBER = r"[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?"
FORMULA = r"[=@\t\r\n\x00+\-＝＠＋－]"
SUSPECT = r"[\x00-\x1f\x7f]|^[ =@+\-＝＠＋－]| $"  # one cheap look at every cell; few need the closer ones


def kept(rows: pd.DataFrame, field: str) -> pd.Series:
    """A field's values, blank where a question about it is open."""
    withheld = rows.loc[rows["withheld"] != "", "withheld"]
    stays = (" " + withheld + " ").str.contains(f" {field} ", regex=False)
    return rows[field].mask(stays.reindex(rows.index, fill_value=False), "") if stays.any() else rows[field]


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
    table = table.reset_index(drop=True)
    return pd.DataFrame({column: _safe(table[column].astype("str")) for column in table.columns}, dtype="str")


def _safe(cells: pd.Series) -> pd.Series:
    suspect = cells.str.contains(SUSPECT, regex=True)
    if not suspect.any():
        return cells
    clean = cells[suspect].str.replace(r"[\x00-\x1f\x7f]+", " ", regex=True).str.strip()
    runs = clean.str.match(FORMULA) & ~clean.str.fullmatch(NUMBER)
    return cells.where(~suspect, clean.mask(runs, ""))
