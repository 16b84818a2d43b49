"""Findings become row states: what is held, for which reason, and which fields stay home."""

from __future__ import annotations

from typing import Any

import pandas as pd
import pytest

from pipeline.catalogue import Entry
from pipeline.rule import Examples, Rule
from pipeline.stages.settle import settle


def entry(name: str, *withholds: str) -> Entry:
    rule = Rule(
        "t", "please-check", "row", "tagger", ("sex",), "m", "w", "s", Examples("", "", ""), withholds=withholds
    )
    return Entry(name, "sex", rule, lambda rows: rows["sex"] != "", None, None)


ENTRIES = [entry("day_missing"), entry("sex_unsure", "sex"), entry("big", "forewingLength", "wingSpan"), entry("odd")]
FINDING = {"key": "k1", "table_id": 1, "field": "sex", "rule": "odd", "severity": "please-check", "state": "open"}
ROW = {"key": "k1", "table_id": 1, "recordKind": "release", "tagCode": "SM0001"}


def settled(rows: list[dict[str, Any]], *found: dict[str, Any], clear_elsewhere: tuple[str, ...] = ()) -> pd.DataFrame:
    findings = pd.DataFrame([FINDING | one for one in found], columns=list(FINDING))
    frame = pd.DataFrame([ROW | one for one in rows], columns=list(ROW), index=range(10, 10 + len(rows)))
    done = settle(frame, findings, ENTRIES, pd.Series(clear_elsewhere, dtype="str"))
    assert done.index.equals(frame.index)
    return done


def one(*found: dict[str, Any]) -> tuple[str, str, str]:
    (line,) = settled([{}], *found)[["state", "reason", "withheld"]].to_numpy().tolist()
    return tuple(line)


MUST = {"severity": "must-answer", "rule": "day_missing", "field": "eventDate"}
OF_TABLE = {**MUST, "key": "", "rule": "needed_column_missing"}

STATES = [
    ("nothing", [], ("clear", "", "")),
    ("a question that must be answered", [MUST], ("held", "day_missing", "")),
    ("two of them", [MUST, {**MUST, "rule": "a_tag_missing"}], ("held", "a_tag_missing day_missing", "")),
    ("one rule on two cells", [MUST, {**MUST, "field": "tagCode"}], ("held", "day_missing", "")),
    ("one that was confirmed", [{**MUST, "state": "waived"}], ("clear", "", "")),
    ("one answered though nobody knows more", [{**MUST, "state": "answered"}], ("held", "day_missing", "")),
    (
        "one answered and one open",
        [{**MUST, "state": "answered"}, {**MUST, "rule": "x"}],
        ("held", "day_missing x", ""),
    ),
    ("one about another row", [{**MUST, "key": "k2"}], ("clear", "", "")),
    ("something unusual", [{}], ("clear", "", "")),
    ("something told", [{"severity": "for-information", "state": "noted", "rule": "sex_unsure"}], ("clear", "", "")),
    ("a doubtful sex", [{"rule": "sex_unsure"}], ("clear", "", "sex")),
    ("a doubtful sex that was confirmed", [{"rule": "sex_unsure", "state": "waived"}], ("clear", "", "")),
    ("a doubtful sex of which nobody knows more", [{"rule": "sex_unsure", "state": "answered"}], ("clear", "", "")),
    ("one of two measures", [{"rule": "big", "field": "wingSpan"}], ("clear", "", "wingSpan")),
    ("a doubt between two measures", [{"rule": "big", "field": "sex"}], ("clear", "", "forewingLength wingSpan")),
    ("two doubts", [{"rule": "sex_unsure"}, {"rule": "big", "field": "wingSpan"}], ("clear", "", "sex wingSpan")),
    (
        "two doubts about one field",
        [{"rule": "sex_unsure"}, {"rule": "sex_unsure", "field": "origin"}],
        ("clear", "", "sex"),
    ),
    ("a doubt beside a question", [MUST, {"rule": "sex_unsure"}], ("held", "day_missing", "sex")),
    ("a rule that is not in the catalogue", [{"rule": "gone"}], ("clear", "", "")),
    ("a needed column missing", [OF_TABLE], ("held", "needed_column_missing", "")),
    ("a needed column missing in another table", [{**OF_TABLE, "table_id": 2}], ("clear", "", "")),
    (
        "a needed column of which nobody knows more",
        [{**OF_TABLE, "state": "answered"}],
        ("held", "needed_column_missing", ""),
    ),
    ("a needed column that was confirmed to be missing", [{**OF_TABLE, "state": "waived"}], ("clear", "", "")),
    ("a column that no row hangs on", [{**OF_TABLE, "field": "sex"}], ("clear", "", "")),
    ("a column missing beside a question of its own", [OF_TABLE, MUST], ("held", "day_missing", "")),
    ("a file", [{**OF_TABLE, "table_id": -1}], ("clear", "", "")),
]


@pytest.mark.parametrize(("found", "line"), [case[1:] for case in STATES], ids=[case[0] for case in STATES])
def test_a_row_is_held_or_clear_for_a_reason(found: list[dict[str, Any]], line: tuple[str, str, str]) -> None:
    assert one(*found) == line


HOLDS = ["tagCode", "scientificName", "eventDate", "decimalLatitude", "decimalLongitude", "locality", "municipality"]


@pytest.mark.parametrize("field", HOLDS)
def test_a_table_is_held_by_a_heading_on_which_tag_species_day_or_place_hang(field: str) -> None:
    done = settled([{}, {"key": "k2", "table_id": 2}, {"key": "k3"}], {**OF_TABLE, "field": field})
    assert done["state"].tolist() == ["held", "clear", "held"]


A_FIND = {"key": "f1", "recordKind": "find"}
NO_RELEASE = "no clear release of this tag yet"

FINDS = [
    ("with a clear release", [{}, A_FIND], [], [("clear", ""), ("clear", "")]),
    ("with a held release", [{}, A_FIND], [MUST], [("held", "day_missing"), ("held", NO_RELEASE)]),
    ("with a release of another tag", [{}, {**A_FIND, "tagCode": "SM0002"}], [], [("clear", ""), ("held", NO_RELEASE)]),
    ("with only another find", [A_FIND, {**A_FIND, "key": "f2"}], [], [("held", NO_RELEASE)] * 2),
    (
        "that is held itself",
        [{}, A_FIND],
        [{**MUST, "key": "f1"}],
        [("clear", ""), ("held", "day_missing")],
    ),
    (
        "with one held and one clear release",
        [{}, {"key": "k2"}, A_FIND],
        [MUST],
        [("held", "day_missing"), ("clear", ""), ("clear", "")],
    ),
]


@pytest.mark.parametrize(("rows", "found", "lines"), [case[1:] for case in FINDS], ids=[case[0] for case in FINDS])
def test_a_find_waits_until_a_release_of_its_tag_is_clear(
    rows: list[dict[str, Any]], found: list[dict[str, Any]], lines: list[tuple[str, str]]
) -> None:
    done = settled(rows, *found)
    assert list(done[["state", "reason"]].itertuples(index=False, name=None)) == lines


ELSEWHERE = [
    ("a clear release of its tag", ("SM0009", "SM0001"), ("clear", "")),
    ("clear releases of other tags", ("SM0009", "SM0002"), ("held", NO_RELEASE)),
    ("nothing clear", (), ("held", NO_RELEASE)),
]


@pytest.mark.parametrize(("tags", "line"), [case[1:] for case in ELSEWHERE], ids=[case[0] for case in ELSEWHERE])
def test_a_release_that_is_clear_elsewhere_in_the_ledger_lets_a_find_go(
    tags: tuple[str, ...], line: tuple[str, str]
) -> None:
    done = settled([A_FIND], clear_elsewhere=tags)
    assert list(done[["state", "reason"]].itertuples(index=False, name=None)) == [line]


def test_a_clear_release_elsewhere_changes_nothing_about_a_held_one_here() -> None:
    done = settled([{}, A_FIND], MUST, clear_elsewhere=("SM0001",))
    assert done["state"].tolist() == ["held", "clear"]


def test_no_rows_have_no_states() -> None:
    assert settled([]).empty
