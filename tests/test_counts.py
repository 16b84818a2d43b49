"""The ledger in counts: rows by state and person, what became of tags, findings and questions by rule."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pandas as pd
import pytest

from pipeline.files.counts import counted, of_files, ready, told_of
from pipeline.files.ledger import add, insert, open_ledger

ROW: dict[str, Any] = {
    "file": "p1/a.csv", "sheet": "", "row": 2, "part": "", "file_sha256": "5a", "key": "", "person_id": "p1",
    "state": "clear", "reason": "", "occurrence_id": "", "digest": "", "modified": "", "batch_id": "",
    "is_rounded": "",
}  # fmt: skip
FILE: dict[str, Any] = {
    "file": "p1/a.csv", "sha256": "5a", "size": 10, "received": "2026-10-20", "refusal": "", "what": "",
    "copy_of": "", "replaced_by": "", "run": 1,
}  # fmt: skip
FINDING: dict[str, Any] = {
    "ref": "", "number": 0, "addressee": "p1", "key": "k", "person_id": "p1", "file": "p1/a.csv", "file_sha256": "5a",
    "sheet": "", "row": 2, "column": "", "field": "", "rule": "b", "severity": "please-check", "asks": "tagger",
    "seen": "", "suggestion": "", "message": "", "words": "", "state": "open", "run": 1,
}  # fmt: skip
QUESTION: dict[str, Any] = {
    "number": 1, "addressee": "p1", "rule": "b", "severity": "please-check", "leading": "", "n_rows": 1, "is_sheet": 0,
    "state": "open", "since": "2026-10-20", "run": 1,
}  # fmt: skip


@pytest.fixture
def ledger(tmp_path: Path) -> Iterator[sqlite3.Connection]:
    opened = open_ledger(tmp_path / "ledger.sqlite", "marsh")
    yield opened
    opened.close()


def keep(ledger: sqlite3.Connection, table: str, usual: dict[str, Any], *lines: dict[str, Any]) -> None:
    insert(ledger, table, pd.DataFrame([usual | line for line in lines]))


def record(ledger: sqlite3.Connection, *records: tuple[str, str]) -> None:
    """Records by tag and kind, each of a row of its own."""
    for at, (tag, kind) in enumerate(records):
        add(ledger, "records", {"key": f"k{at}", "file_sha256": "5a", "person_id": "p1", "tag": tag, "kind": kind})


def undo(ledger: sqlite3.Connection, run: int) -> None:
    add(ledger, "undone", {"run": run, "day": "2026-10-20"})


def test_rows_are_counted_by_person_and_state(ledger: sqlite3.Connection) -> None:
    keep(
        ledger, "rows", ROW,
        {}, {"row": 3}, {"state": "held"}, {"person_id": "p2", "state": "copy"}, {"person_id": "", "state": "held"},
    )  # fmt: skip
    states = counted(ledger, 1).states.sort_values(["person_id", "state"])
    assert states.to_numpy().tolist() == [["", "held", 1], ["p1", "clear", 2], ["p1", "held", 1], ["p2", "copy", 1]]


def test_the_share_of_a_run_is_that_of_the_files_that_came_in_it(ledger: sqlite3.Connection) -> None:
    keep(
        ledger,
        "files",
        FILE,
        {},
        {"file": "p1/b.csv", "run": 2},
        {"file": "p1/copy.csv", "copy_of": "p1/a.csv", "run": 2},
    )
    keep(
        ledger, "rows", ROW,
        {}, {"file": "p1/b.csv"}, {"file": "p1/b.csv", "state": "held"}, {"file": "p1/copy.csv", "state": "copy"},
    )  # fmt: skip
    assert counted(ledger, 2).of_run == {"clear": 1, "copy": 1, "held": 1}
    assert counted(ledger, 1).of_run == {"clear": 1}
    undo(ledger, 2)
    assert counted(ledger, 2).of_run == {}


def test_rows_left_out_are_counted_by_their_reason(ledger: sqlite3.Connection) -> None:
    out = {"state": "left-out"}
    keep(
        ledger, "rows", ROW,
        out | {"reason": "total"}, out | {"reason": "the tag was lost"}, out | {"reason": "total"}, {"reason": "total"},
    )  # fmt: skip
    assert list(counted(ledger, 1).left_out.items()) == [("the tag was lost", 1), ("total", 2)]


RELEASED = [
    ("a release", [("SM0001", "release")], {"SM0001"}),
    ("two rows with one code", [("SM0001", "release"), ("SM0001", "release")], {"SM0001"}),
    ("a find", [("SM0001", "find")], set()),
    ("no code", [("", "release")], set()),
    ("a lost tag", [("SM0001", "lost")], set()),
    ("nothing", [], set()),
]


@pytest.mark.parametrize(("records", "codes"), [case[1:] for case in RELEASED], ids=[case[0] for case in RELEASED])
def test_a_tag_is_released_once_if_a_release_carries_it(
    records: list[tuple[str, str]], codes: set[str], ledger: sqlite3.Connection
) -> None:
    record(ledger, *records)
    assert told_of(ledger, None)[0] == codes == told_of(ledger, sorted(codes))[0]


NEVER = [
    ("a code that nobody was handed", [("SM0999", "release", 0)], 1),
    ("one such code in two rows", [("SM0999", "release", 0), ("SM0999", "release", 0)], 1),
    ("an allotted code", [("SM0001", "release", 1)], 0),
    ("one of each", [("SM0001", "release", 1), ("SM0999", "release", 0), ("SM0998", "release", 0)], 2),
    ("a find", [("SM0999", "find", 0)], 0),
    ("no code", [("", "release", 0)], 0),
    ("nothing", [], 0),
]


@pytest.mark.parametrize(("records", "count"), [case[1:] for case in NEVER], ids=[case[0] for case in NEVER])
def test_released_tags_that_were_never_allotted_are_counted_once(
    records: list[tuple[str, str, int]], count: int, ledger: sqlite3.Connection
) -> None:
    record(ledger, *((tag, kind) for tag, kind, _ in records))
    for at, (_, _, is_allotted) in enumerate(records):
        ledger.execute("UPDATE records SET is_allotted = ? WHERE key = ?", (is_allotted, f"k{at}"))
    assert counted(ledger, 1).never_allotted == count


TOLD: list[tuple[str, list[tuple[str, str]], list[tuple[str, str, int]], dict[str, str]]] = [
    ("lost by a row", [("SM0001", "lost")], [], {"SM0001": "lost"}),
    ("spoiled by a row", [("SM0001", "spoiled")], [], {"SM0001": "spoiled"}),
    ("not used by a row", [("SM0001", "not used")], [], {"SM0001": "not used"}),
    ("a row without a code", [("", "lost")], [], {}),
    ("a release and a find", [("SM0001", "release"), ("SM0002", "find")], [], {}),
    ("by an answer", [], [("SM0001", "not used", 2)], {"SM0001": "not used"}),
    ("by an answer against a row", [("SM0001", "lost")], [("SM0001", "not used", 2)], {"SM0001": "not used"}),
    ("by two answers", [], [("SM0001", "lost", 2), ("SM0001", "spoiled", 2)], {"SM0001": "spoiled"}),
    ("by an answer that was taken back", [("SM0001", "lost")], [("SM0001", "not used", 9)], {"SM0001": "lost"}),
]


@pytest.mark.parametrize(("records", "fates", "told"), [case[1:] for case in TOLD], ids=[case[0] for case in TOLD])
def test_what_became_of_a_tag_is_what_was_said_last(
    records: list[tuple[str, str]], fates: list[tuple[str, str, int]], told: dict[str, str], ledger: sqlite3.Connection
) -> None:
    record(ledger, *records)
    for tag, fate, run in fates:
        add(ledger, "tag_fates", {"tag": tag, "fate": fate, "who": "p1", "day": "2026-10-20", "run": run})
    undo(ledger, 9)
    assert told_of(ledger, None)[1] == told


def test_findings_are_counted_by_rule_as_long_as_they_stand(ledger: sqlite3.Connection) -> None:
    states = ["open", "open", "noted", "answered", "waived", "withdrawn"]
    keep(ledger, "findings", FINDING, *({"identity": f"i{at}", "state": state} for at, state in enumerate(states)))
    keep(ledger, "findings", FINDING, {"identity": "j", "rule": "a", "severity": "must-answer", "asks": "coordinator"})
    found = counted(ledger, 1).findings.sort_values("rule")
    assert found[["rule", "severity", "asks", "findings"]].to_numpy().tolist() == [
        ["a", "must-answer", "coordinator", 1], ["b", "please-check", "tagger", 3],
    ]  # fmt: skip


def test_open_questions_are_counted_and_no_others(ledger: sqlite3.Connection) -> None:
    keep(ledger, "questions", QUESTION, {"ref": "K3H8M2Q"}, {"ref": "A2B3C4D", "state": "closed"})
    assert counted(ledger, 1).questions.to_numpy().tolist() == [["K3H8M2Q", "p1", "b", "please-check"]]


def test_an_empty_ledger_counts_nothing(ledger: sqlite3.Connection) -> None:
    now = counted(ledger, 1)
    assert now.states.empty and now.findings.empty and now.questions.empty
    assert not now.of_run and not now.left_out and not now.tags and not now.never_allotted
    assert ready(ledger) == {}
    assert of_files(ledger, 1) == {"read": 0, "copies": 0, "refused": 0, "new": 0}


def test_what_waits_for_us_is_ready_as_far_as_its_sender_is_concerned(ledger: sqlite3.Connection) -> None:
    keep(
        ledger, "rows", ROW,
        {}, {"state": "held", "reason": "gate"}, {"state": "held", "reason": "waits for the next delivery"},
        {"state": "held", "reason": "day_missing"}, {"state": "copy"},
        {"person_id": "p2", "state": "held", "reason": "day_missing"},
    )  # fmt: skip
    assert ready(ledger) == {"p1": (3, 1), "p2": (0, 1)}


def test_files_are_counted_by_what_they_are(ledger: sqlite3.Connection) -> None:
    keep(
        ledger, "files", FILE,
        {}, {"file": "b", "run": 2}, {"file": "c", "copy_of": "p1/a.csv", "run": 2}, {"file": "d", "refusal": "x"},
        {"file": "e", "replaced_by": "6b", "run": 2}, {"file": "f", "run": 3},
    )  # fmt: skip
    undo(ledger, 3)
    assert of_files(ledger, 2) == {"read": 2, "copies": 1, "refused": 1, "new": 2}
