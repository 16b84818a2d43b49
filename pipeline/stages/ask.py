"""Findings to questions: one cell, one question; what repeats is asked once for the block or the sheet."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import pandas as pd

from pipeline.catalogue import Entry
from pipeline.frames import known_of
from pipeline.values.ref import ref_of

BLOCK_ROWS = 5  # more rows than these with the same rule and suggestion are one question
SHEET_ROWS, SHEET_SHARE = 6, 0.3  # from here on it is one question about the sheet
RANK = {"must-answer": 0, "please-check": 1}
COORDINATOR = "coordinator"
QUESTION_COLUMNS = [
    "ref",
    "addressee",
    "asks",
    "rule",
    "severity",
    "finding",
    "findings",
    "n_rows",
    "is_sheet",
]


def ask(
    findings: pd.DataFrame, entries: Sequence[Entry], rows_of_table: pd.Series, finders: Mapping[str, str]
) -> pd.DataFrame:
    """The open questions, a line each, with QUESTION_COLUMNS.

    `finding` is the index of the finding whose words the question uses, `findings` the indices of all that it
    stands for; `rows_of_table` says how many rows each table has; `finders` gives the address of a find that
    nobody of people.csv reported, by row key.
    """
    asked = findings[findings["state"] == "open"].copy()
    if not len(asked):
        return pd.DataFrame(columns=QUESTION_COLUMNS)
    asked["addressee"] = _addressees(asked, finders)
    asked["rank"] = asked["severity"].map(RANK)
    asked["cell"] = _cells(asked)
    asked = asked.sort_values(["rank", "rule"], kind="stable").drop_duplicates("cell").sort_index()
    each_row = {entry.name for entry in entries if entry.rule.each_row}
    by_word = {entry.name for entry in entries if entry.rule.by_word}
    is_of_word = asked["rule"].isin(by_word) & (asked["suggestion"] == "")
    asked["word"] = ("|" + asked["seen"]).where(is_of_word, "") if is_of_word.any() else ""
    asked["group"] = _groups(asked, each_row, rows_of_table)
    is_town = asked["rule"].isin({entry.name for entry in entries if entry.rule.decides == "site"})
    if is_town.any():  # asked once, whoever wrote it and on whatever sheet
        asked["group"] = asked["group"].mask(is_town, "town|" + asked["rule"] + "|" + asked["seen"].str.lower())
    return _questions(asked)


def _addressees(asked: pd.DataFrame, finders: Mapping[str, str]) -> pd.Series:
    """Who is asked: the sender, the finder of a find without one, else the coordinator."""
    person = asked["person_id"].where(
        asked["person_id"] != "", known_of(asked["key"], finders).replace("", COORDINATOR)
    )
    return person.where(asked["asks"] != COORDINATOR, COORDINATOR).astype("str")


def _cells(asked: pd.DataFrame) -> pd.Series:
    whole = (
        asked["file_sha256"]
        + "|"
        + asked["sheet"]
        + "|"
        + asked["row"].astype("str")
        + "|"
        + asked["column"]
        + "|"
        + asked["field"]
        + "|"
        + asked["rule"]
    )
    return (asked["key"] + "|" + asked["field"]).where(asked["key"] != "", whole)


def _groups(asked: pd.DataFrame, each_row: set[str], rows_of_table: pd.Series) -> pd.Series:
    """The identity of the question that each finding belongs to: a sheet's, a block's, a word's or its own."""
    gathers = ~asked["rule"].isin(each_row) & (asked["key"] != "")
    by_table = asked["table_id"].astype("str") + "|" + asked["rule"] + "|" + asked["asks"]
    of_rule = _rows_with(by_table, asked["key"], gathers)
    size = asked["table_id"].map(rows_of_table).fillna(0)
    is_sheet = gathers & (asked["word"] == "") & (of_rule >= SHEET_ROWS) & (of_rule > size * SHEET_SHARE)
    place = asked["file_sha256"] + "|" + asked["sheet"] + "|" + asked["rule"]
    block = by_table + "|" + asked["suggestion"] + asked["word"]
    fewest = (asked["word"] == "").map({True: BLOCK_ROWS, False: 1})
    is_block = gathers & ~is_sheet & (_rows_with(block, asked["key"], gathers) > fewest)
    return (
        ("cell|" + asked["cell"])
        .where(~is_block, "block|" + place + "|" + asked["suggestion"] + asked["word"])
        .where(~is_sheet, "sheet|" + place)
    )


def _rows_with(same: pd.Series, keys: pd.Series, gathers: pd.Series) -> pd.Series:
    """In how many rows the same is found as in each finding; a row with two such cells counts once."""
    once = gathers & ~pd.DataFrame({"same": same, "key": keys}).duplicated()
    return same.map(same[once].value_counts()).fillna(0)


def _questions(asked: pd.DataFrame) -> pd.DataFrame:
    asked = asked.assign(index=asked.index)
    whose = ["addressee", "group"]
    groups = asked.groupby(whose, sort=False)
    first = asked.drop_duplicates(whose)
    members = groups["index"].agg(tuple)
    keys = pd.MultiIndex.from_frame(first[whose])
    questions = pd.DataFrame(
        {
            "ref": [ref_of(f"{addressee}|{group}") for addressee, group in first[whose].itertuples(index=False)],
            "addressee": first["addressee"].to_numpy(),
            "asks": first["asks"].to_numpy(),
            "rule": first["rule"].to_numpy(),
            "severity": first["severity"].to_numpy(),
            "finding": first.index.to_numpy(),
            "findings": members.reindex(keys).to_numpy(),
            "n_rows": groups["key"].nunique().reindex(keys).to_numpy(),
            "is_sheet": first["group"].str.startswith("sheet|").to_numpy(),
        }
    )
    places = first[["file", "sheet", "row", "column"]].set_axis(questions.index)
    by = ["addressee", "rank", "file", "sheet", "row", "column", "finding"]
    ordered = questions.assign(**places, rank=questions["severity"].map(RANK)).sort_values(by)
    return ordered[QUESTION_COLUMNS].reset_index(drop=True)
