"""Findings to row states: what is clear, what is held and for which reason, which fields stay home."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import pandas as pd

from pipeline.catalogue import Entry
from pipeline.frames import is_among, known_of

NEEDED = (
    "tagCode",
    "scientificName",
    "eventDate",
    "decimalLatitude",
    "decimalLongitude",
    "locality",
    "municipality",
)


def settle(
    rows: pd.DataFrame, findings: pd.DataFrame, entries: Sequence[Entry], clear_elsewhere: pd.Series
) -> pd.DataFrame:
    """For each row: state (clear or held), reason (the rules that hold it), withheld (fields, by a space).

    `rows` has key, table_id, recordKind, tagCode; the result has its index. `clear_elsewhere` are the tags of clear
    releases beside them. What was answered without being known holds its row still.
    """
    open_findings = findings[findings["state"] == "open"]
    holding = findings[findings["state"].isin(["open", "answered"]) & (findings["severity"] == "must-answer")]
    of_rows = holding[holding["key"] != ""]
    reason = known_of(rows["key"], _joined(of_rows, "key", "rule"))
    of_tables = holding[(holding["key"] == "") & (holding["table_id"] >= 0) & holding["field"].isin(NEEDED)]
    reason = reason.where(reason != "", known_of(rows["table_id"], _joined(of_tables, "table_id", "rule")))
    settled = pd.DataFrame(
        {
            "state": (reason != "").map({True: "held", False: "clear"}).astype("str"),
            "reason": reason.astype("str"),
            "withheld": _withheld(rows, open_findings, entries),
        },
        index=rows.index,
    )
    return _hold_finds_without_a_clear_release(rows, settled, clear_elsewhere)


def _joined(findings: pd.DataFrame, by: str, what: str) -> pd.Series:
    unique = findings[[by, what]].drop_duplicates().sort_values([by, what])
    return unique.groupby(by)[what].agg(" ".join)


def _withheld(rows: pd.DataFrame, findings: pd.DataFrame, entries: Sequence[Entry]) -> pd.Series:
    withholds: Mapping[str, tuple[str, ...]] = {entry.name: entry.rule.withholds for entry in entries}
    asked = findings[(findings["severity"] == "please-check") & (findings["key"] != "")][["key", "rule", "field"]]
    asked = asked.drop_duplicates()
    fields = [
        (key, field)
        for key, rule, own in asked.itertuples(index=False)
        for field in (
            (own,) if own in withholds.get(rule, ()) and len(withholds[rule]) > 1 else withholds.get(rule, ())
        )
    ]
    lines = pd.DataFrame(fields, columns=["key", "field"], dtype="str")
    return known_of(rows["key"], _joined(lines, "key", "field"))


def _hold_finds_without_a_clear_release(
    rows: pd.DataFrame, settled: pd.DataFrame, clear_elsewhere: pd.Series
) -> pd.DataFrame:
    is_find = rows["recordKind"] == "find"
    if not is_find.any():
        return settled
    clear_tags = pd.concat([rows.loc[~is_find & (settled["state"] == "clear"), "tagCode"], clear_elsewhere])
    waits = is_find & (settled["state"] == "clear") & ~is_among(rows["tagCode"], clear_tags)
    settled.loc[waits, "state"] = "held"
    settled.loc[waits, "reason"] = "no clear release of this tag yet"
    return settled
