"""How a row's cells become cells of the portal: kept back, only from a list, never like a formula."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Mapping, Sequence
from typing import Any

import numpy as np
import numpy.typing as npt
import pandas as pd

NUMBER = re.compile(r"[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?", re.ASCII)
CONTROL = re.compile(r"[\x00-\x1f\x7f]+")
STARTS_FORMULA = tuple("=@\t\r\n\x00+-＝＠＋－")
SUSPECT = r"[\x00-\x1f\x7f]|^[ =@+\-＝＠＋－]| $"  # one cheap look at every text; few need the closer ones


def is_blank(values: pd.Series) -> bool:
    """Whether nothing stands in a column: most columns of most seasons."""
    return not len(values) or (values.iloc[0] == "" and bool((values == "").all()))


def kept(rows: pd.DataFrame, field: str) -> pd.Series:
    """A field's values, blank where a question about it is open."""
    said = [fields for fields in rows["withheld"].unique() if field in fields.split(" ")]
    return rows[field].mask(rows["withheld"].isin(said), "") if said else rows[field]


def of_list(values: pd.Series, words: Sequence[str]) -> pd.Series:
    """The values that are one of the words, others blank."""
    return values if is_blank(values) else values.where(values.isin(["", *words]), "")


def in_words(values: pd.Series, words: Mapping[str, str]) -> pd.Series:
    """The values in the words that the portal wants for them; what has no word there is blank."""
    kept_as_they_are = of_list(values, list(words))
    if is_blank(kept_as_they_are) or all(own == theirs for own, theirs in words.items()):
        return kept_as_they_are
    codes, unique = pd.factorize(kept_as_they_are)
    return spread([words.get(own, "") for own in unique], codes, values.index)


def matching(values: pd.Series, pattern: str) -> pd.Series:
    """The values that the pattern fits whole, others blank."""
    if is_blank(values):
        return values
    whole = re.compile(pattern, re.ASCII)
    codes, unique = pd.factorize(values)
    return spread([text if whole.fullmatch(text) else "" for text in unique], codes, values.index)


def spread(texts: Iterable[str], codes: npt.NDArray[np.integer[Any]], index: pd.Index) -> pd.Series:
    """The text of each code, for texts worked out once per unique value."""
    return pd.Series(list(texts), dtype="str").take(codes).set_axis(index)


def joined(notes: Sequence[tuple[str, pd.Series]]) -> pd.Series:
    """The words whose condition holds, parted by a bar as the standard has it."""
    # Each mix of conditions has a number, in which condition i is the bit i.
    mixes = sum(holds.to_numpy(dtype="int64") << place for place, (_, holds) in enumerate(notes))
    said = [
        " | ".join(words for place, (words, _) in enumerate(notes) if mix >> place & 1)
        for mix in range(1 << len(notes))
    ]
    return spread(said, np.asarray(mixes), notes[0][1].index)


def safe(table: pd.DataFrame, ours: Collection[str] = ()) -> pd.DataFrame:
    """The table as text without control characters, and without cells that a spreadsheet would run.

    `ours` are columns that hold nothing typed, which need no look.
    """
    table = table.reset_index(drop=True)
    return pd.DataFrame(
        {name: column if name in ours else _safe(column.astype("str")) for name, column in table.items()}, dtype="str"
    )


def _safe(cells: pd.Series) -> pd.Series:
    codes, unique = pd.factorize(cells)
    texts = pd.Series(unique, dtype="str")
    suspect = texts.str.contains(SUSPECT, regex=True)
    if not suspect.any():
        return cells
    return spread([_clean(text) if odd else text for text, odd in zip(texts, suspect, strict=True)], codes, cells.index)


def _clean(text: str) -> str:
    clean = CONTROL.sub(" ", text).strip()
    return "" if clean.startswith(STARTS_FORMULA) and not NUMBER.fullmatch(clean) else clean
