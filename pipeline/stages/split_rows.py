"""A row with the codes of several butterflies, made into a row for each where its sender said so."""

from __future__ import annotations

import uuid

import pandas as pd

from pipeline.frames import rows_where
from pipeline.values.tag_code import codes_between

SEVERAL, RANGE = "several-codes", "range-of-codes"
NAMESPACE = uuid.UUID("7c1f6a0e-5d5b-5c6e-9d55-3a9d7b0f4e21")  # made once for this program, of nothing else
# What a row says of all its butterflies together, and of none of them.
TOGETHER = ("individualCount", "untaggedSeen", "effortHours")


def codes_in_cell(doubt: str, candidates: str) -> list[str]:
    """The codes that a cell holds, all of a range.

    >>> codes_in_cell("range-of-codes", "SM0101 | SM0103"), codes_in_cell("several-codes", "SM0101 | SM0107")
    (['SM0101', 'SM0102', 'SM0103'], ['SM0101', 'SM0107'])
    """
    codes = candidates.split(" | ") if candidates else []
    return list(codes_between(*codes)) if doubt == RANGE and len(codes) == 2 else codes


def codes_in_cells(rows: pd.DataFrame) -> set[str]:
    """Every code in the cells of the rows that hold several."""
    several = rows.loc[rows["tagCode_doubt"].isin([SEVERAL, RANGE]), ["tagCode_doubt", "tagCode_candidates"]]
    return {code for doubt, said in several.itertuples(index=False) for code in codes_in_cell(doubt, said)}


def split_rows(rows: pd.DataFrame, answers: pd.DataFrame) -> pd.DataFrame:
    """The rows, each that holds several codes and whose sender took our suggestion made into one for each code.

    They share day, place and all else but what was counted of them together; each has a key of its own, worked out of
    the row's key and its code, and is told apart by `part`. `answers`: key, field, choice as they came.
    """
    said = answers[(answers["field"] == "tagCode")].drop_duplicates("key", keep="last")
    taken = said.loc[said["choice"] == "suggestion", "key"]
    is_split = rows["key"].isin(list(taken)) & rows["tagCode_doubt"].isin([SEVERAL, RANGE])
    if not is_split.any():
        return rows
    pieces = [_split(rows.loc[[index]]) for index in rows.index[is_split]]
    return pd.concat([rows_where(rows, ~is_split), *pieces], ignore_index=True)


def _split(row: pd.DataFrame) -> pd.DataFrame:
    doubt, candidates, key, part = (
        str(row[name].iloc[0]) for name in ("tagCode_doubt", "tagCode_candidates", "key", "part")
    )
    codes = codes_in_cell(doubt, candidates)
    each = row.loc[row.index.repeat(len(codes))].reset_index(drop=True)
    each["tagCode"] = pd.Series(codes, dtype="str")
    each["tagCode_written"] = each["tagCode"]
    each["tagCode_doubt"] = each["tagCode_candidates"] = pd.Series("", index=each.index, dtype="str")
    each["key"] = pd.Series([str(uuid.uuid5(NAMESPACE, f"{key}/{code}")) for code in codes], dtype="str")
    parts = [".".join(filter(None, (part, str(number)))) for number in range(1, len(codes) + 1)]
    each["part"] = pd.Series(parts, dtype="str")
    for name in TOGETHER:
        for column in (name, f"{name}_written", f"{name}_doubt", f"{name}_candidates"):
            each[column] = pd.Series("", index=each.index, dtype="str")
    return each
