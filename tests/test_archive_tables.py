"""Batches laid over each other: the last line of a record counts, with the measures of its batch."""

from __future__ import annotations

from pathlib import Path

import pytest

import pipeline.files.archive_tables as archive_tables
from pipeline.files.archive_tables import texts_of, whole
from tests.published_ledger import add_batch, ledger_with

A, B, C = (f"urn:uuid:00000000-0000-5000-8000-00000000000{digit}" for digit in "abc")


def ids(ledger: object, name: str = "occurrence") -> list[str]:
    return whole(ledger)[name]["occurrenceID"].to_pylist()  # type: ignore[arg-type, no-any-return]


def test_a_later_line_takes_the_place_of_an_earlier(tmp_path: Path) -> None:
    ledger = ledger_with(tmp_path, {B: {"sex": "male"}, A: {}})
    add_batch(ledger, tmp_path, {B: {"sex": "female"}})
    table = whole(ledger)["occurrence"]
    assert list(zip(table["occurrenceID"].to_pylist(), table["sex"].to_pylist(), strict=True)) == [
        (A, ""),
        (B, "female"),
    ]


def test_measures_come_from_the_batch_of_the_last_line_only(tmp_path: Path) -> None:
    ledger = ledger_with(tmp_path, {A: {}, B: {}})
    add_batch(ledger, tmp_path, {B: {}})
    assert ids(ledger, "measurementOrFact") == [A, B]


def test_what_was_withdrawn_is_gone_with_its_measures(tmp_path: Path) -> None:
    ledger = ledger_with(tmp_path, {A: {}, B: {}})
    add_batch(ledger, tmp_path, {C: {}}, gone=(A,))
    assert ids(ledger) == ids(ledger, "measurementOrFact") == [B, C]


def test_what_comes_back_is_there_again(tmp_path: Path) -> None:
    ledger = ledger_with(tmp_path, {A: {}})
    add_batch(ledger, tmp_path, {}, gone=(A,))
    assert ids(ledger) == []
    add_batch(ledger, tmp_path, {A: {}})
    assert ids(ledger) == [A]


def test_nothing_published_gives_empty_tables(tmp_path: Path) -> None:
    ledger = ledger_with(tmp_path, {})
    assert [table.num_rows for table in whole(ledger).values()] == [0, 0, 0]
    ledger.execute("DELETE FROM batches")
    assert [table.num_rows for table in whole(ledger).values()] == [0, 0, 0]


def test_texts_of_a_withdrawn_record_are_not_told(tmp_path: Path) -> None:
    ledger = ledger_with(tmp_path, {A: {"eventDate": "2025-01-01"}, B: {}})
    add_batch(ledger, tmp_path, {}, gone=(A,))
    assert texts_of(whole(ledger)["occurrence"]["eventDate"]) == ["2026-09-03"]


def test_a_column_that_an_older_batch_did_not_have_is_blank(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    ledger = ledger_with(tmp_path, {A: {}})
    wider = {name: (*columns, "siteNumber") for name, columns in archive_tables.portal_columns().items()}
    monkeypatch.setattr(archive_tables, "portal_columns", lambda: wider)
    assert whole(ledger)["occurrence"]["siteNumber"].to_pylist() == [""]
