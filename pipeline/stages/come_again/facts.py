"""Facts about rows that came in several versions: left out of the newer one, or a column sorted by itself."""

from __future__ import annotations

from collections.abc import Mapping

import pandas as pd

SORTED_ROWS, SORTED_SHARE = 5, 0.3  # of the rows that came again: so many moved values are no corrections
WHOLE_SHARE = 0.5  # of the older file's rows: a newer one with fewer of them holds corrections, and leaves nothing out
Versions = Mapping[tuple[str, str], str]


def version_facts(
    rows: pd.DataFrame,
    who: pd.DataFrame,
    fields: Mapping[int, frozenset[str]],
    matched: Versions,
    took_place_of: Mapping[str, str],
) -> dict[str, pd.Series]:
    """`missing_from`, `sorted_alone` and `value_before` for every row.

    `who` has the rows in order of arrival: file, file_sha256, person_id, table_id, key, order and how, copy or newer;
    `took_place_of` is the file that stood at the same path before, by SHA-256 both.
    """
    own = who[who["how"] != "copy"]
    alone = pd.Series("", index=rows.index, dtype="str")
    value_before = alone.copy()
    before = pd.Series(own.index, index=own.index).groupby(own["key"], sort=False).shift(1).dropna().astype("int64")
    first = pd.Series(own.index, index=own["key"])[~own["key"].duplicated().to_numpy()]
    again = who.loc[who["how"] != "", "table_id"].value_counts()
    for _, newer in rows.loc[before.index].groupby(["file_sha256", "table_id"]):
        table = int(newer["table_id"].iloc[0])
        olds = rows.loc[before[newer.index]].set_axis(newer.index)
        firsts = rows.loc[first[own.loc[newer.index, "key"]]].set_axis(newer.index)
        moved = _moved(newer, olds, fields.get(table, frozenset()), int(again[table]))
        # A column that says again what it said at first was put back.
        moved = {field: differs for field, differs in moved.items() if (newer[field] != firsts[field])[differs].any()}
        if not moved:
            continue
        # If all columns moved against the tags, it was the tags that moved.
        field = next(iter(moved)) if len(moved) == 1 else "tagCode"
        changed = newer.index[pd.concat(list(moved.values()), axis=1).any(axis=1)]
        alone.loc[changed] = field
        if len(moved) == 1:
            value_before.loc[changed] = olds.loc[changed, field]
    missing = _missing_from(who, matched, took_place_of).reindex(rows.index)
    return {"missing_from": missing, "sorted_alone": alone, "value_before": value_before}


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


def _missing_from(rows: pd.DataFrame, matched: Versions, took_place_of: Mapping[str, str]) -> pd.Series:
    """The file that first left a row out, of rows of which no later file says anything.

    A short file that only corrects a row or two leaves none out, unless it took the older one's place.
    """
    missing = pd.Series("", index=rows.index, dtype="str")
    orders = rows.groupby("file_sha256")["order"].first()
    last_seen = rows.groupby("key")["order"].max()
    names = rows.drop_duplicates("file_sha256").set_index("file_sha256")["file"]
    pairs = [(orders[new], new, person, older) for (new, person), older in matched.items() if older and new in orders]
    for order, new, person, older in sorted(pairs):
        if older not in orders:
            continue
        keys = rows.loc[(rows["file_sha256"] == older) & (rows["person_id"] == person), "key"]
        is_again = keys.isin(rows.loc[rows["file_sha256"] == new, "key"])
        if is_again.mean() < WHOLE_SHARE and took_place_of.get(new) != older:
            continue
        lost = keys[keys.map(last_seen) < order]
        is_lost = rows["key"].isin(lost) & (missing == "")
        missing[is_lost] = str(names[new]).rsplit("/", 1)[-1]
    return missing
