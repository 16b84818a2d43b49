"""Facts about rows that came in several versions: left out of the newer one, or a column sorted by itself."""

from __future__ import annotations

from collections.abc import Mapping

import pandas as pd

SORTED_ROWS, SORTED_SHARE = 5, 0.3  # of the rows that came again: so many moved values are no corrections


def version_facts(
    rows: pd.DataFrame, own: pd.DataFrame, fields: Mapping[int, frozenset[str]], matched: Mapping[tuple[str, str], str]
) -> pd.DataFrame:
    """`missing_from`, `sorted_alone` and `value_before` for every row; `rows` in order of arrival, `own` no copies."""
    blank = pd.Series("", index=rows.index, dtype="str")
    facts = pd.DataFrame({"missing_from": _missing_from(rows, matched), "sorted_alone": blank, "value_before": blank})
    before = pd.Series(own.index, index=own.index).groupby(own["key"], sort=False).shift(1).dropna().astype("int64")
    for _, newer in rows.loc[before.index].groupby(["file_sha256", "table_id"]):
        olds = rows.loc[before[newer.index]].set_axis(newer.index)
        came_again = int((rows["how"] != "")[rows["table_id"] == newer["table_id"].iloc[0]].sum())
        moved = _moved(newer, olds, fields.get(newer["table_id"].iloc[0], frozenset()), came_again)
        if not moved:
            continue
        # If all columns moved against the tags, it was the tags that moved.
        field = next(iter(moved)) if len(moved) == 1 else "tagCode"
        changed = newer.index[pd.concat(list(moved.values()), axis=1).any(axis=1)]
        facts.loc[changed, "sorted_alone"] = field
        if len(moved) == 1:
            facts.loc[changed, "value_before"] = olds.loc[changed, field]
    return facts


def _moved(newer: pd.DataFrame, olds: pd.DataFrame, fields: frozenset[str], came_again: int) -> dict[str, pd.Series]:
    """The fields whose values are all there still, but in other rows, and in which rows they differ."""
    moved = {}
    for field in sorted(fields & set(newer.columns)):
        differs = newer[field] != olds[field]
        if differs.sum() < max(SORTED_ROWS, SORTED_SHARE * came_again):
            continue
        if sorted(newer.loc[differs, field]) == sorted(olds.loc[differs, field]):
            moved[field] = differs
    return moved


def _missing_from(rows: pd.DataFrame, matched: Mapping[tuple[str, str], str]) -> pd.Series:
    """The file that first left a row out, of rows of which no later file says anything."""
    missing = pd.Series("", index=rows.index, dtype="str")
    orders = rows.groupby("file_sha256")["order"].first()
    last_seen = rows.groupby("key")["order"].max()
    names = rows.drop_duplicates("file_sha256").set_index("file_sha256")["file"]
    pairs = [(orders[new], new, person, older) for (new, person), older in matched.items() if older and new in orders]
    for order, new, person, older in sorted(pairs):
        if older not in orders:
            continue
        keys = rows.loc[(rows["file_sha256"] == older) & (rows["person_id"] == person), "key"]
        lost = keys[keys.map(last_seen) < order]
        is_lost = rows["key"].isin(lost) & (missing == "")
        missing[is_lost] = str(names[new]).rsplit("/", 1)[-1]
    return missing
