"""Answers that did not come to rest, a line each, for the rules about answers."""

from __future__ import annotations

import pandas as pd

from pipeline.frames import known_of

COLUMNS = [
    "key", "person_id", "file", "file_sha256", "sheet", "row", "table_id", "field", "ref", "number", "typed", "value",
    "why", "outcome", "was", "now", "answered", "answered_by", "is_open", "rule_asked", "tagCode", "row_asked",
    "file_asked",
]  # fmt: skip


def describe_answers(problems: pd.DataFrame, rows: pd.DataFrame) -> pd.DataFrame:
    """The answer lines with what their cell says now; one about a row stands where the row does, not where it came.

    `problems`: answer lines with outcome, key, field, was, answered, and number, addressee, rule of their question.
    """
    rows = rows[rows["key"].isin(problems["key"])]  # most runs have none
    current = rows.set_index("key")[["file", "file_sha256", "sheet", "row", "table_id", "person_id", "tagCode"]]
    is_known = (problems["key"] != "") & problems["key"].isin(current.index)
    # About a row that is no longer looked at there is nothing to say but that.
    lines = problems[is_known | ~problems["outcome"].isin(["conflict"])].reset_index(drop=True)
    is_known = (lines["key"] != "") & lines["key"].isin(current.index) & (lines["outcome"] == "conflict")
    of_row = current.reindex(lines["key"].where(is_known)).reset_index(drop=True)
    told = lines.assign(
        table_id=-1, answered_by=lines["addressee"], rule_asked=lines["rule"], is_open=lines["is_open"].astype("bool"),
        tagCode=known_of(lines["key"], current["tagCode"]), row_asked=0,
        file_asked=known_of(lines["key"], current["file"]),
        now=[_now(rows, current, key, field) for key, field in lines[["key", "field"]].itertuples(index=False)],
    )  # fmt: skip
    told["now"] = told["now"].astype("str")
    is_of_a_tag = (told["outcome"] == "not read") & (told["number"] == 0)
    told["tagCode"] = told["tagCode"].where(~is_of_a_tag, told["value"])
    told["ref"] = told["ref"].where(told["ref"] != "", "none given")
    for name in ("file", "file_sha256", "sheet", "row", "person_id"):
        told[name] = told[name].where(~is_known, of_row[name]).astype(lines[name].dtype)
    told["row_asked"] = of_row["row"].fillna(0).astype("int64")
    told["row"] = told["row"].astype("int64")
    told["key"] = told["key"].where(is_known, "")
    return told[COLUMNS]


def _now(rows: pd.DataFrame, current: pd.DataFrame, key: str, field: str) -> str:
    """What the cell says now, in standard form."""
    if key not in current.index or field not in rows:
        return ""
    return str(rows.loc[rows["key"] == key, field].iloc[0])
