"""Findings become questions: one cell, one question; what repeats is asked once; everybody is asked their own."""

from __future__ import annotations

from typing import Any

import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st
from stdnum.iso7064 import mod_37_36

from pipeline.catalogue import Entry
from pipeline.rule import Examples, Rule
from pipeline.stages.ask import QUESTION_COLUMNS, ask
from pipeline.values.ref import LETTERS, is_ref, ref_of

FINDING: dict[str, Any] = {
    "key": "k1", "person_id": "p1", "file": "p1/a.xlsx", "file_sha256": "ab", "sheet": "Tags", "table_id": 1, "row": 2,
    "column": "C", "field": "sex", "rule": "odd", "severity": "please-check", "asks": "tagger", "suggestion": "",
    "seen": "", "state": "open",
}  # fmt: skip


def entry(name: str, **more: Any) -> Entry:
    rule = Rule("t", "please-check", "row", "tagger", ("sex",), "m", "w", "s", Examples("", "", ""), **more)
    return Entry(name, "sex", rule, lambda rows: rows["sex"] != "", None, None)


ENTRIES = [entry("odd"), entry("tag_twice", each_row=True), entry("word", by_word=True)]


def asked(*found: dict[str, Any], rows: int = 1000, finders: dict[str, str] | None = None) -> list[dict[str, Any]]:
    findings = pd.DataFrame([FINDING | one for one in found], columns=list(FINDING))
    questions = ask(findings, ENTRIES, pd.Series({1: rows, 2: rows}), finders or {})
    assert list(questions.columns) == QUESTION_COLUMNS
    return questions.to_dict("records")


def many(count: int, **more: Any) -> list[dict[str, Any]]:
    """The same finding in so many rows."""
    return [{"key": f"k{at}", "row": at + 2, **more} for at in range(count)]


# One cell, one question: the severest asks, of equals the first by rule name.
CELLS = [
    ("the severest", [{"rule": "a_check"}, {"rule": "z_must", "severity": "must-answer"}], ["z_must"]),
    ("of equals the first by name", [{"rule": "b"}, {"rule": "a"}], ["a"]),
    ("two cells of a row", [{"rule": "a"}, {"rule": "a", "field": "origin", "column": "D"}], ["a", "a"]),
    ("the same cell of two rows", [{"rule": "a"}, {"rule": "a", "key": "k2"}], ["a", "a"]),
    ("two headings of a sheet", [{"key": "", "rule": "a"}, {"key": "", "rule": "a", "column": "D"}], ["a", "a"]),
    ("two rules about one file", [{"key": "", "rule": "a"}, {"key": "", "rule": "b"}], ["a", "b"]),
]


@pytest.mark.parametrize(("found", "rules"), [case[1:] for case in CELLS], ids=[case[0] for case in CELLS])
def test_one_cell_is_one_question(found: list[dict[str, Any]], rules: list[str]) -> None:
    assert [one["rule"] for one in asked(*found)] == rules


def test_only_open_findings_are_asked() -> None:
    assert asked({"state": "noted"}, {"state": "answered"}, {"state": "waived"}) == []
    assert asked() == []
    assert len(asked({"state": "noted", "severity": "for-information"}, {"key": "k2"})) == 1


GATHERED = [
    ("five rows are five questions", many(5), 1000, [1] * 5),
    ("six rows are one block", many(6), 1000, [6]),
    ("six rows with two suggestions are six", many(3, suggestion="a") + many(6, suggestion="b")[3:], 1000, [1] * 6),
    ("a block and the rest", many(6, suggestion="a") + many(8, suggestion="b")[6:], 1000, [6, 1, 1]),
    ("six of 20 rows are a block at 30 %", many(6), 20, [6]),
    ("six of 19 rows are one about the sheet", many(6), 19, [6]),
    ("five of five rows stay five", many(5), 5, [1] * 5),
    (
        "seven of 20 with suggestions apart are one",
        [{"suggestion": str(i), **one} for i, one in enumerate(many(7))],
        20,
        [7],
    ),
    ("a word is one question", many(2, rule="word", seen="1"), 1000, [2]),
    (
        "two words of a whole sheet are two",
        [*many(4, rule="word", seen="1"), *many(9, rule="word", seen="2")[4:]],
        9,
        [4, 5],
    ),
    ("with a suggestion a word is as all else", many(2, rule="word", seen="femal", suggestion="female"), 1000, [1, 1]),
    ("a rule for each row", many(8, rule="tag_twice"), 8, [1] * 8),
]


@pytest.mark.parametrize(
    ("found", "rows", "sizes"), [case[1:] for case in GATHERED], ids=[case[0] for case in GATHERED]
)
def test_what_repeats_is_gathered(found: list[dict[str, Any]], rows: int, sizes: list[int]) -> None:
    questions = asked(*found, rows=rows)
    assert [one["n_rows"] for one in questions] == sizes
    assert sorted(at for one in questions for at in one["findings"]) == list(range(len(found)))
    assert all(one["finding"] == one["findings"][0] for one in questions)


@pytest.mark.parametrize(("rows", "is_sheet"), [(19, True), (20, False)], ids=["over 30 %", "just 30 %"])
def test_a_question_about_the_sheet_is_told_from_one_about_a_block(rows: int, is_sheet: bool) -> None:
    (question,) = asked(*many(6), rows=rows)
    assert question["is_sheet"] is is_sheet


def test_a_row_with_two_cells_in_doubt_counts_once() -> None:
    found = [*many(3), *many(3, field="origin", column="D")]
    assert [one["n_rows"] for one in asked(*found, rows=8)] == [1] * 6


def test_rows_of_two_sheets_are_not_gathered_into_one_question() -> None:
    found = [*many(6), *({**one, "key": f"b{i}", "table_id": 2, "sheet": "Late"} for i, one in enumerate(many(6)))]
    assert [one["n_rows"] for one in asked(*found)] == [6, 6]


def test_findings_about_files_and_headings_are_never_gathered() -> None:
    assert len(asked(*({"key": "", "column": letter} for letter in "ABCDEFGH"))) == 8


ADDRESSEES = [
    ("the sender", {}, "p1"),
    ("the coordinator, asked by the rule", {"asks": "coordinator"}, "coordinator"),
    ("the person who reported a find", {"asks": "finder", "person_id": "p2"}, "p2"),
    ("a finder who is not on file", {"asks": "finder", "person_id": "", "key": "f1"}, "finders/0f3c5a7e9b12"),
    ("nobody known", {"person_id": "", "key": "k9"}, "coordinator"),
    ("the coordinator about a stranger's find", {"asks": "coordinator", "person_id": "", "key": "f1"}, "coordinator"),
    ("nobody known, about a file", {"person_id": "", "key": ""}, "coordinator"),
]


@pytest.mark.parametrize(
    ("found", "addressee"), [case[1:] for case in ADDRESSEES], ids=[case[0] for case in ADDRESSEES]
)
def test_a_question_goes_to_whom_the_rule_asks(found: dict[str, Any], addressee: str) -> None:
    (question,) = asked(found, finders={"f1": "finders/0f3c5a7e9b12"})
    assert question["addressee"] == addressee


def test_what_the_coordinator_is_asked_is_not_gathered_with_what_the_tagger_is_asked() -> None:
    questions = asked(*many(6), *({**one, "key": f"c{i}", "asks": "coordinator"} for i, one in enumerate(many(6))))
    assert [(one["addressee"], one["n_rows"]) for one in questions] == [("coordinator", 6), ("p1", 6)]


def test_questions_stand_by_person_then_severity_then_in_the_order_of_the_sheet() -> None:
    questions = asked(
        {"key": "k9", "row": 9}, {"key": "k4", "row": 4}, {"key": "k7", "row": 7, "severity": "must-answer"},
        {"key": "o1", "row": 1, "person_id": "p0"}, {"key": "k4", "row": 4, "field": "tagCode", "column": "A"},
    )  # fmt: skip
    assert [one["finding"] for one in questions] == [3, 2, 4, 1, 0]


def test_a_question_keeps_its_ref_whatever_else_is_asked() -> None:
    (alone,) = asked({"key": "k7", "row": 7})
    beside = {one["ref"]: one for one in asked({"key": "k1"}, {"key": "k7", "row": 7}, {"key": "", "rule": "z"})}
    assert beside[alone["ref"]]["finding"] == 1
    (moved,) = asked({"key": "k7", "row": 7, "file": "p1/late/a.xlsx"})
    assert moved["ref"] == alone["ref"]


def test_every_question_has_a_ref_of_its_own() -> None:
    questions = asked(*many(5), *many(5, rule="odder", field="origin"), *many(8, rule="tag_twice", field="tagCode"))
    assert len({one["ref"] for one in questions}) == len(questions) == 18
    assert all(is_ref(one["ref"]) for one in questions)


# The check character is that of ISO/IEC 7064 MOD 37,36: python-stdnum holds it against the standard.
@given(st.text(max_size=40))
def test_a_ref_is_seven_clear_signs_of_which_the_last_checks_the_others(identity: str) -> None:
    ref = ref_of(identity)
    assert len(ref) == 7 and not set(ref) & set("01IOL")
    assert mod_37_36.is_valid(ref)
    assert is_ref(ref) and ref_of(identity) == ref


@given(st.text(max_size=20), st.integers(0, 6), st.sampled_from(LETTERS))
def test_one_wrong_sign_in_a_ref_is_noticed(identity: str, at: int, sign: str) -> None:
    ref = ref_of(identity)
    typed = ref[:at] + sign + ref[at + 1 :]
    assert is_ref(typed) == (typed == ref)


@pytest.mark.parametrize("text", ["", "K7M", "k7m01px", "0000000", "K7M01PX8", "IIIIIII"])
def test_a_text_of_another_shape_is_no_ref(text: str) -> None:
    assert not is_ref(text)
