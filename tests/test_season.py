"""A season over several runs: sheets come again, answers come back, rows are withdrawn, runs are undone."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest
from openpyxl import load_workbook

from pipeline.cli import main
from pipeline.files.gate_client import Gate
from pipeline.flow import Outcome, run
from tests.season_folder import TODAY, clean_rows, findings, make_folder, read_table, rows, write_sheet

Go = Callable[..., Outcome]


@pytest.fixture
def go(gate: Gate) -> Go:
    return lambda folder, today=TODAY: run(folder, today, lambda: gate)


def doubtful(tag: str = "AB0013") -> list[str]:
    return [tag, "31/09/2026", "male", "Amherst", "Nova Scotia", "51"]


def answered(folder: Path, person: str, answers: dict[int, tuple[str, str, str]]) -> Path:
    """The person's question sheet with answers by number: (answer, other value, why), put into the inbox."""
    sheet = load_workbook(folder / "outbox" / "volunteers" / person / "questions.xlsx")
    page = sheet.worksheets[0]
    for row in range(2, page.max_row + 1):
        number = int(page.cell(row, 2).value)
        for column, text in zip((8, 9, 10), answers.get(number, ()), strict=False):
            page.cell(row, column).value = text or None
    place = folder / "inbox" / person / "questions.xlsx"
    place.parent.mkdir(parents=True, exist_ok=True)
    sheet.save(place)
    return place


def state_of(folder: Path, row: str, file: str = "p1/mine.csv") -> str:
    return next(line["state"] for line in rows(folder) if line["row"] == row and line["file"] == file)


def outcomes(folder: Path) -> list[str]:
    return [line["outcome"] for line in read_table(folder / "outbox" / "coordinator" / "answers.csv")]


def test_a_right_value_clears_the_row(tmp_path: Path, go: Go) -> None:
    folder = make_folder(tmp_path)
    write_sheet(folder / "inbox" / "p1" / "mine.csv", [*clean_rows(1, 12), doubtful()])
    assert go(folder).figures.rows["held"] == 1
    answered(folder, "p1", {1: ("Other value", "29 September 2026", "")})
    outcome = go(folder)
    assert outcome.figures.rows["held"] == 0 and outcome.figures.questions == 0
    assert outcomes(folder) == ["applied"]
    batch = read_table(folder / "outbox" / "portal" / "2026-0002" / "occurrence.csv")
    assert [line["eventDate"] for line in batch] == ["2026-09-29"]
    assert "answered" in {line["state"] for line in findings(folder)}


def test_right_as_it_is_is_never_asked_again(tmp_path: Path, go: Go) -> None:
    folder = make_folder(tmp_path)
    write_sheet(
        folder / "inbox" / "p1" / "mine.csv",
        [*clean_rows(1, 12), ["AB0013", "2026-09-12", "male", "Amherst", "Nova Scotia", "62"]],
    )
    assert go(folder).figures.questions == 1
    answered(folder, "p1", {1: ("No, it is right as it is", "", "measured twice")})
    outcome = go(folder)
    assert outcome.figures.questions == 0 and outcomes(folder) == ["confirmed"]
    assert {line["state"] for line in findings(folder)} == {"waived"}
