"""Every batch is audited: what differs as is known is counted, everything else is listed with the row it came from."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pandas as pd
import pytest

from pipeline.audit.all_tests import all_tests
from pipeline.audit.audit import Answered
from pipeline.audit.audit_test import compliant, not_compliant
from pipeline.audit.columns import Column, column
from pipeline.files.audit_lines import sentence, write_audit
from pipeline.files.gate_audit import _told, _without_known, audit_of
from pipeline.files.gate_client import Gate
from pipeline.files.schemas import table
from pipeline.flow import AS_USUAL, How, Outcome, run
from tests.season_folder import SETTINGS, TODAY, clean_rows, make_folder, read_table, write_sheet

Go = Callable[..., Outcome]


@pytest.fixture
def go(gate: Gate) -> Go:
    return lambda folder, how=AS_USUAL: run(folder, TODAY, lambda: gate, how)


def season(folder: Path, settings: str = SETTINGS) -> Path:
    make_folder(folder, settings)
    write_sheet(folder / "inbox" / "p1" / "mine.csv", clean_rows(1, 5))
    return folder


def lines(folder: Path) -> list[dict[str, str]]:
    return [dict(line) for line in read_table(folder / "outbox" / "coordinator" / "audit.csv")]


def test_what_differs_as_is_known_is_counted_and_nothing_else_is_said_of_a_clean_batch(tmp_path: Path, go: Go) -> None:
    folder = season(tmp_path / "s")
    outcome = go(folder)
    told = lines(folder)
    assert {line["is_known"] for line in told} == {"yes"} and {line["batch_id"] for line in told} == {"2026-0001"}
    assert {line["test"] for line in told} <= {line["test"] for line in table("audit_known.csv")}
    status = next(line for line in told if line["test"] == "VALIDATION_OCCURRENCESTATUS_STANDARD")
    assert (status["records"], status["file"]) == ("5", "")
    (note,) = [note for note in outcome.notes if "data quality" in note]
    counted = sum(int(line["records"]) for line in told)
    assert note.endswith(
        f"on 5 records: {counted} answers differ for known reasons (coordinator/audit.csv), nothing else"
    )


def test_with_the_older_word_the_difference_is_gone(tmp_path: Path, go: Go) -> None:
    folder = season(tmp_path / "s", SETTINGS + '\n[portal]\noccurrence_status = "present"\n')
    go(folder)
    assert "VALIDATION_OCCURRENCESTATUS_STANDARD" not in {line["test"] for line in lines(folder)}


def test_a_batch_is_audited_once_and_again_where_the_list_is_lost(tmp_path: Path, go: Go) -> None:
    folder = season(tmp_path / "s")
    first = go(folder)
    write_sheet(folder / "inbox" / "p2" / "none.csv", [["AB0031", "", "", "", "", ""]])
    second = go(folder)
    assert any("data quality" in note for note in first.notes) and second.figures.batch == {}
    assert not any("data quality" in note for note in second.notes)
    before = lines(folder)
    (folder / "outbox" / "coordinator" / "audit.csv").unlink()
    write_sheet(folder / "inbox" / "p2" / "none.csv", [["AB0032", "", "", "", "", ""]])
    assert any("data quality" in note for note in go(folder).notes)
    assert lines(folder) == before


def test_a_trial_and_a_run_without_a_gate_are_not_audited(tmp_path: Path, go: Go) -> None:
    folder = season(tmp_path / "s")
    go(folder, How(is_trial=True))
    assert not (folder / "outbox" / "coordinator").exists()
    run(folder, TODAY, None)
    assert not (folder / "outbox" / "coordinator" / "audit.csv").exists()


def test_what_is_not_known_is_listed_with_its_row(tmp_path: Path, go: Go) -> None:
    folder = season(tmp_path / "s")
    go(folder)
    batch = folder / "outbox" / "portal" / "2026-0001"
    core = pd.read_csv(batch / "occurrence.csv", dtype=str, keep_default_na=False)
    core.loc[0, "eventDate"], core.loc[1, "license"] = "2026-13-45", "free for all"
    spoiled = tmp_path / "spoiled"
    spoiled.mkdir()
    core.to_csv(spoiled / "occurrence.csv", index=False)
    told = audit_of(spoiled, TODAY)
    wanting = {(test, record) for test, _, _, record in told["listed"]}
    ids = core["occurrenceID"].tolist()
    assert {("VALIDATION_EVENTDATE_STANDARD", ids[0]), ("VALIDATION_LICENSE_STANDARD", ids[1])} <= wanting
    assert {record for _, record in wanting} == set(ids[:2])
    with sqlite3.connect(folder / "programme" / "ledger.sqlite") as ledger:
        write_audit(tmp_path / "audit.csv", ledger, "2026-0001", told)
    listed = [line for line in read_table(tmp_path / "audit.csv") if line["is_known"] == "no"]
    of_first = [line for line in listed if line["occurrenceID"] == ids[0]]
    assert {(line["file"], line["row"]) for line in of_first} == {("p1/mine.csv", "2")}
    assert all(line["says"] for line in listed)
    assert sentence(told).endswith("and 2 records are to be looked at; all in coordinator/audit.csv")


def test_where_there_is_nothing_to_say_the_list_says_so(tmp_path: Path) -> None:
    ledger = sqlite3.connect(":memory:")
    write_audit(tmp_path / "audit.csv", ledger, "2026-0001", {"records": 3, "known": [], "listed": []})
    (line,) = read_table(tmp_path / "audit.csv")
    assert (line["batch_id"], line["records"], line["says"]) == ("2026-0001", "0", "nothing")


def test_a_difference_is_known_by_the_value_of_its_column() -> None:
    entry = next(one for one in all_tests() if one.test.label == "VALIDATION_OCCURRENCESTATUS_STANDARD")
    said = Answered(entry, Column([compliant(), not_compliant("not one of the words")], np.array([1, 1, 0, 1])))
    columns = {"occurrenceStatus": column(["detected", "seen", "present", "notDetected"]),
               "occurrenceID": column(["a", "b", "c", "d"])}  # fmt: skip
    known: list[tuple[str, str, str, int]] = []
    rest = _without_known(said, columns, 4, known)
    assert [count for *_, count in known] == [2] and [one[3] for one in _told(said, columns, rest)] == ["b"]


def test_every_known_difference_names_a_test_and_a_reason() -> None:
    labels = {entry.test.label for entry in all_tests()}
    for line in table("audit_known.csv"):
        assert line["test"] in labels and line["reason"] and line["column"]


def test_an_audit_that_a_killed_run_left_out_is_made_up_for_with_nothing_new(tmp_path: Path, go: Go) -> None:
    folder = season(tmp_path / "s")
    go(folder)
    before = lines(folder)
    (folder / "outbox" / "coordinator" / "audit.csv").unlink()
    assert go(folder).figures.batch == {} and lines(folder) == before
    assert go(folder).is_unchanged
