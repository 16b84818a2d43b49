"""Several butterflies in one row of a sheet: each is a record of its own through a whole run, and back."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from openpyxl import load_workbook

from pipeline.files.gate_client import Gate
from pipeline.flow import Outcome, run
from tests.season_folder import TODAY, clean_rows, findings, make_folder, read_table, rows, write_sheet

Go = Callable[..., Outcome]
HEAD = ["Date", "Town", "Province", "Tag 1", "Sex 1", "Tag 2", "Sex 2"]
LINES = [
    ["2026-09-03", "Sackville", "New Brunswick", "AB0001", "M", "AB0002", "F"],
    ["2026-09-04", "Sackville", "New Brunswick", "AB0003", "F", "", ""],
    ["31/09/2026", "Amherst", "Nova Scotia", "AB0004", "M", "AB0005", "F"],
    ["Total", "", "", "5", "", "", ""],
]


@pytest.fixture
def go(gate: Gate) -> Go:
    return lambda folder, today=TODAY: run(folder, today, lambda: gate)


def lines_of(folder: Path) -> list[tuple[str, str, str]]:
    return [(line["row"], line["part"], line["state"]) for line in rows(folder)]


def test_each_butterfly_of_a_row_has_its_own_line_and_id(tmp_path: Path, go: Go) -> None:
    folder = make_folder(tmp_path)
    write_sheet(folder / "inbox" / "p1" / "wide.csv", LINES, HEAD)
    figures = go(folder).figures
    assert lines_of(folder) == [
        ("2", "1", "clear"), ("2", "2", "clear"), ("3", "1", "clear"), ("4", "1", "held"), ("4", "2", "held"),
        ("5", "1", "left-out"),
    ]  # fmt: skip
    assert (figures.rows["clear"], figures.rows["held"], figures.rows["left-out"]) == (3, 2, 1)
    batch = read_table(next((folder / "outbox" / "portal").glob("2026-*")) / "occurrence.csv")
    assert {(line["organismName"], line["sex"], line["eventDate"]) for line in batch} == {
        ("AB0001", "male", "2026-09-03"), ("AB0002", "female", "2026-09-03"), ("AB0003", "female", "2026-09-04"),
    }  # fmt: skip
    assert len({line["occurrenceID"] for line in batch}) == 3


def test_the_question_names_the_cell_and_the_row_comes_back_whole(tmp_path: Path, go: Go) -> None:
    folder = make_folder(tmp_path)
    write_sheet(folder / "inbox" / "p1" / "wide.csv", LINES, HEAD)
    go(folder)
    asked = [line for line in findings(folder) if line["rule"] == "day_not_in_calendar"]
    assert {(line["row"], line["column"]) for line in asked} == {("4", "A")}
    book = load_workbook(folder / "outbox" / "volunteers" / "p1" / "questions.xlsx")
    page = book["Your rows"]
    heads = [cell.value for cell in page[1]]
    assert heads[-7:] == HEAD, "one row as it was sent, not one for each butterfly"
    of_row = next(row for row in page.iter_rows(min_row=2) if "31/09/2026" in [cell.value for cell in row])
    of_row[heads.index("Date")].value, of_row[heads.index("Sex 2")].value = "2026-09-30", "M"
    book.save(folder / "inbox" / "p1" / "questions.xlsx")
    figures = go(folder).figures
    assert figures.rows["held"] == 0, "the day that both butterflies share is answered for both"
    batch = read_table(folder / "outbox" / "portal" / "2026-0002" / "occurrence.csv")
    assert {(line["organismName"], line["sex"], line["eventDate"]) for line in batch} == {
        ("AB0004", "male", "2026-09-30"), ("AB0005", "male", "2026-09-30"),
    }  # fmt: skip


def test_a_wide_sheet_that_comes_again_is_compared_butterfly_by_butterfly(tmp_path: Path, go: Go) -> None:
    folder = make_folder(tmp_path)
    write_sheet(folder / "inbox" / "p1" / "wide.csv", LINES[:2], HEAD)
    go(folder)
    again = [LINES[0], [*LINES[1][:5], "AB0006", "M"]]
    write_sheet(folder / "inbox" / "p1" / "wide final.csv", again, HEAD)
    figures = go(folder).figures
    assert (figures.rows["clear"], figures.rows["copy"]) == (4, 3)


def test_a_range_of_codes_becomes_a_row_for_each_when_its_sender_says_so(tmp_path: Path, go: Go) -> None:
    folder = make_folder(tmp_path)
    block = ["AB0011-AB0015, 2 M 3 F", "2026-09-03", "", "Sackville", "New Brunswick", ""]
    write_sheet(folder / "inbox" / "p1" / "mine.csv", [*clean_rows(1, 4), block])
    assert go(folder).figures.rows["held"] == 1
    asked = [line for line in findings(folder) if line["state"] == "open"]
    assert [(line["rule"], line["suggestion"]) for line in asked] == [("several_codes_in_a_cell", "AB0011 to AB0015")]
    (folder / "inbox" / "p1" / "reply.txt").write_text("1 yes\n", newline="\n")
    figures = go(folder).figures
    assert (figures.rows["clear"], figures.rows["held"], figures.questions) == (9, 0, 0)
    assert [line["part"] for line in rows(folder) if line["row"] == "6"] == ["1", "2", "3", "4", "5"]
    batch = read_table(folder / "outbox" / "portal" / "2026-0002" / "occurrence.csv")
    assert [(line["organismName"], line["sex"], line["eventDate"]) for line in batch] == [
        (f"AB001{number}", "", "2026-09-03") for number in range(1, 6)
    ]
    again = go(folder)
    assert again.is_unchanged
    write_sheet(folder / "inbox" / "p1" / "more.csv", clean_rows(21, 2))
    later = go(folder).figures
    assert later.rows["clear"] == 11 and later.batch["records"] == "2", "the ids of the five stay theirs"
