"""The coordinator's CSV files list the whole ledger, piece by piece, in the order in which people read."""

from __future__ import annotations

import csv
import json
import sqlite3
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pandas as pd
import pytest

from pipeline.files.csv_files import PIECE
from pipeline.files.ledger import add, insert, open_ledger
from pipeline.files.ledger_rows import ORIGIN_COLUMNS, ROW_COLUMNS
from pipeline.files.ledger_tables import (
    ANSWER_COLUMNS,
    CHANGE_COLUMNS,
    FIND_COLUMNS,
    FINDING_COLUMNS,
    SHEET_COLUMNS,
    changes_apart,
    table_lines,
    write_tables,
)
from pipeline.model import Heading, Sheet, Table

ROW: dict[str, Any] = {
    "file": "p1/mine.csv", "sheet": "", "row": 2, "part": "", "file_sha256": "5a", "key": "k2", "person_id": "p1",
    "state": "clear", "reason": "", "occurrence_id": "urn:uuid:k2", "digest": "d", "modified": "2026-10-20",
    "batch_id": "2026-0001", "is_rounded": "",
}  # fmt: skip
FINDING: dict[str, Any] = {
    "identity": "i1", "ref": "K3H8M2Q", "number": 3, "addressee": "p1", "key": "k3", "person_id": "p1",
    "file": "p1/mine.csv", "file_sha256": "5a", "sheet": "", "row": 3, "column": "B", "field": "eventDate",
    "rule": "day_not_in_calendar", "severity": "must-answer", "asks": "tagger", "seen": "31/09/2026",
    "suggestion": "", "message": "Which day was it?", "words": "{}", "state": "open", "run": 1,
}  # fmt: skip
FILE: dict[str, Any] = {
    "file": "p1/mine.csv", "sha256": "5a", "size": 10, "received": "2026-10-20", "refusal": "", "what": "",
    "copy_of": "", "run": 1,
}  # fmt: skip
ANSWER: dict[str, Any] = {
    "file": "p1/questions.xlsx", "file_sha256": "77", "sheet": "Your questions", "row": 2, "person_id": "p1",
    "ref": "K3H8M2Q", "typed": "Other value", "value": "29/09/2026", "why": "", "outcome": "applied", "key": "k3",
    "field": "eventDate", "was": "31/09/2026", "answered": "2026-09-29", "run": 2,
}  # fmt: skip
NO_LETTERS = pd.DataFrame({"person_id": [], "email": []}, dtype="str")
Line = dict[str, str]


@pytest.fixture
def ledger(tmp_path: Path) -> Iterator[sqlite3.Connection]:
    opened = open_ledger(tmp_path / "ledger.sqlite", "marsh")
    yield opened
    opened.close()


def keep(ledger: sqlite3.Connection, table: str, usual: dict[str, Any], *lines: dict[str, Any]) -> None:
    insert(ledger, table, pd.DataFrame([usual | line for line in lines]))


def written(ledger: sqlite3.Connection, tmp_path: Path, name: str) -> list[Line]:
    folder = tmp_path / "outbox" / "coordinator"
    assert write_tables(folder, ledger, NO_LETTERS) == []
    with (folder / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def addresses(lines: list[Line]) -> list[str]:
    return [f"{line['file']} {line['row']}" for line in lines]


HEADINGS = {
    "findings.csv": FINDING_COLUMNS, "changes.csv": CHANGE_COLUMNS, "rows.csv": ROW_COLUMNS,
    "sheets.csv": SHEET_COLUMNS, "origin.csv": ORIGIN_COLUMNS, "finds.csv": FIND_COLUMNS,
    "answers.csv": ANSWER_COLUMNS, "letters.csv": ["person_id", "email"],
}  # fmt: skip


@pytest.mark.parametrize(("name", "columns"), HEADINGS.items(), ids=HEADINGS)
def test_an_empty_ledger_gives_tables_of_headings_alone(
    name: str, columns: list[str], ledger: sqlite3.Connection, tmp_path: Path
) -> None:
    assert written(ledger, tmp_path, name) == []
    text = (tmp_path / "outbox" / "coordinator" / name).read_bytes()
    assert text == (",".join(columns) + "\n").encode()


def test_nothing_is_left_beside_the_files(ledger: sqlite3.Connection, tmp_path: Path) -> None:
    keep(ledger, "rows", ROW, {})
    written(ledger, tmp_path, "rows.csv")
    assert {path.name for path in (tmp_path / "outbox" / "coordinator").iterdir()} == set(HEADINGS)


def test_rows_stand_in_the_order_in_which_people_count(ledger: sqlite3.Connection, tmp_path: Path) -> None:
    files = ["p1/v10.csv", "p1/v2.csv", "p1/x final.csv", "p1/x.csv", "p10/a.csv", "p2/a.csv"]
    keep(ledger, "rows", ROW, *({"file": file, "row": row} for file in files for row in (10, 9, 2)))
    expected = ["p1/v2.csv", "p1/v10.csv", "p1/x.csv", "p1/x final.csv", "p2/a.csv", "p10/a.csv"]
    assert addresses(written(ledger, tmp_path, "rows.csv")) == [
        f"{file} {row}" for file in expected for row in (2, 9, 10)
    ]


def test_of_one_path_each_sheet_and_each_part_stands_together(ledger: sqlite3.Connection, tmp_path: Path) -> None:
    places = [("5a", "Two", 2, ""), ("5a", "One", 3, "2"), ("5a", "One", 3, "1"), ("4f", "Two", 2, "")]
    keep(
        ledger, "rows", ROW,
        *({"file_sha256": sha256, "sheet": sheet, "row": row, "part": part} for sha256, sheet, row, part in places),
    )  # fmt: skip
    lines = written(ledger, tmp_path, "rows.csv")
    told = [(line["file_sha256"], line["sheet"], line["row"], line["part"]) for line in lines]
    assert told == [("4f", "Two", "2", ""), ("5a", "One", "3", "1"), ("5a", "One", "3", "2"), ("5a", "Two", "2", "")]


def test_many_files_are_written_in_pieces_that_follow_one_another(ledger: sqlite3.Connection, tmp_path: Path) -> None:
    # More than 500 files are more than one piece; their rows were kept in any order.
    numbers = [number * 7 % 1201 + 1 for number in range(1201)]
    keep(ledger, "rows", ROW, *({"file": f"p1/sheet {number}.csv", "row": row} for row in (3, 2) for number in numbers))
    lines = written(ledger, tmp_path, "rows.csv")
    assert addresses(lines) == [f"p1/sheet {number}.csv {row}" for number in range(1, 1202) for row in (2, 3)]
    ids = written(ledger, tmp_path, "origin.csv")
    assert [line["file"] for line in ids] == [line["file"] for line in lines]


def test_many_rows_are_written_in_pieces_that_follow_one_another(ledger: sqlite3.Connection, tmp_path: Path) -> None:
    sizes = {"p1/a2.csv": PIECE + 1, "p1/a10.csv": 3, "p2/b.csv": 2}
    for file, size in reversed(sizes.items()):
        rows = pd.DataFrame({**ROW, "file": file, "row": range(size + 1, 1, -1)})
        insert(ledger, "rows", rows)
    lines = written(ledger, tmp_path, "rows.csv")
    assert addresses(lines) == [f"{file} {row}" for file, size in sizes.items() for row in range(2, size + 2)]


STATES = [
    ("clear", "clear", "urn:uuid:k2"),
    ("held after it was published", "held", "urn:uuid:k2"),
    ("withdrawn", "withdrawn", "urn:uuid:k2"),
    ("a copy", "copy", ""),
    ("replaced", "replaced", ""),
    ("left out", "left-out", ""),
]


@pytest.mark.parametrize(("state", "shown"), [case[1:] for case in STATES], ids=[case[0] for case in STATES])
def test_an_id_is_shown_of_rows_that_count_alone(
    state: str, shown: str, ledger: sqlite3.Connection, tmp_path: Path
) -> None:
    keep(ledger, "rows", ROW, {"state": state, "reason": "why"})
    (line,) = written(ledger, tmp_path, "rows.csv")
    assert (line["state"], line["reason"], line["occurrence_id"]) == (state, "why", shown)


def test_a_copied_file_is_listed_row_by_row_under_its_own_path(ledger: sqlite3.Connection, tmp_path: Path) -> None:
    copy = {"file": "p1/again.csv", "state": "copy", "reason": "the same bytes as p1/mine.csv", "occurrence_id": ""}
    keep(ledger, "rows", ROW, {}, {"row": 3}, copy | {"digest": ""}, copy | {"row": 3, "digest": ""})
    lines = written(ledger, tmp_path, "rows.csv")
    assert addresses(lines) == ["p1/again.csv 2", "p1/again.csv 3", "p1/mine.csv 2", "p1/mine.csv 3"]
    assert [line["state"] for line in lines] == ["copy", "copy", "clear", "clear"]
    assert {line["file_sha256"] for line in lines} == {"5a"}


def test_an_origin_is_told_of_what_is_at_the_portal_alone(ledger: sqlite3.Connection, tmp_path: Path) -> None:
    keep(ledger, "rows", ROW, {}, {"row": 3, "key": "k3", "digest": ""}, {"row": 4, "state": "copy", "digest": ""})
    assert written(ledger, tmp_path, "origin.csv") == [
        {"occurrenceID": "urn:uuid:k2", "batch_id": "2026-0001", "file": "p1/mine.csv", "sheet": "", "row": "2",
         "file_sha256": "5a"},
    ]  # fmt: skip


def test_a_ledger_that_has_published_nothing_has_no_origins(ledger: sqlite3.Connection, tmp_path: Path) -> None:
    keep(ledger, "rows", ROW, {"digest": ""}, {"file": "found.csv", "digest": ""})
    assert written(ledger, tmp_path, "origin.csv") == []


def test_findings_about_a_sheet_or_file_have_no_row(ledger: sqlite3.Connection, tmp_path: Path) -> None:
    keep(
        ledger, "findings", FINDING,
        {"identity": "i1"},
        {"identity": "i2", "row": 0, "column": "", "rule": "file_not_opened", "file": "p1/photo.jpg"},
        {"identity": "i3", "row": 0, "sheet": "Tags", "column": "", "rule": "needed_column_missing"},
        {"identity": "i4", "row": 12, "column": "C", "file": "p1/mine.csv"},
    )  # fmt: skip
    lines = written(ledger, tmp_path, "findings.csv")
    assert [(line["file"], line["sheet"], line["row"], line["column"]) for line in lines] == [
        ("p1/mine.csv", "", "3", "B"), ("p1/mine.csv", "", "12", "C"), ("p1/mine.csv", "Tags", "", ""),
        ("p1/photo.jpg", "", "", ""),
    ]  # fmt: skip
    assert lines[0]["message"] == "Which day was it?" and lines[0]["state"] == "open"


def test_two_findings_on_one_cell_stand_by_the_names_of_their_rules(ledger: sqlite3.Connection, tmp_path: Path) -> None:
    keep(ledger, "findings", FINDING, {"identity": "i1", "rule": "z"}, {"identity": "i2", "rule": "a"})
    assert [line["rule"] for line in written(ledger, tmp_path, "findings.csv")] == ["a", "z"]


def changes(*lines: tuple[str, str, str]) -> str:
    """The changes of a file as the ledger keeps them, in the order of its cells: row, column, field."""
    rows, columns, fields = (list(told) for told in zip(*lines, strict=True))
    blank = [""] * len(lines)
    return json.dumps({
        "person_id": ["p1"] * len(lines), "sheet": blank, "row": rows, "column": columns, "field": fields,
        "seen": ["Mâle"] * len(lines), "became": ["male"] * len(lines), "why": blank,
    })  # fmt: skip


def test_changes_are_listed_file_by_file_in_the_order_of_their_cells(
    ledger: sqlite3.Connection, tmp_path: Path
) -> None:
    keep(ledger, "rows", ROW, {}, {"file": "p1/v10.csv"}, {"file": "p1/v2.csv"})
    told = changes(("3", "", "eventDate"), ("3", "AB", "sex"), ("12", "C", "sex"))
    keep(
        ledger, "changes", {"lines": told},
        {"file": "p1/v10.csv", "file_sha256": "5b"}, {"file": "p1/v2.csv", "file_sha256": "5c"},
    )  # fmt: skip
    lines = written(ledger, tmp_path, "changes.csv")
    each = [("3", "", "eventDate"), ("3", "AB", "sex"), ("12", "C", "sex")]
    assert [(line["file"], line["row"], line["column"], line["field"]) for line in lines] == [
        (file, *one) for file in ("p1/v2.csv", "p1/v10.csv") for one in each
    ]
    assert (lines[1]["seen"], lines[1]["became"], lines[1]["person_id"]) == ("Mâle", "male", "p1")


def test_changes_of_older_and_newer_bytes_at_one_path_are_listed(ledger: sqlite3.Connection, tmp_path: Path) -> None:
    keep(ledger, "rows", ROW, {}, {"file_sha256": "5b"})
    keep(
        ledger, "changes", {"file": "p1/mine.csv"},
        {"file_sha256": "5a", "lines": changes(("2", "A", "sex"))},
        {"file_sha256": "5b", "lines": changes(("3", "A", "sex"))},
    )  # fmt: skip
    assert addresses(written(ledger, tmp_path, "changes.csv")) == ["p1/mine.csv 2", "p1/mine.csv 3"]


def test_texts_that_a_spreadsheet_would_run_are_guarded_and_numbers_are_not(
    ledger: sqlite3.Connection, tmp_path: Path
) -> None:
    keep(ledger, "findings", FINDING, {"seen": "=cmd()", "suggestion": "-64.4", "message": "@here"})
    (line,) = written(ledger, tmp_path, "findings.csv")
    assert (line["seen"], line["suggestion"], line["message"]) == ("'=cmd()", "-64.4", "'@here")


def table_at(sha256: str, first: int, headings: int, left_out: int = 0) -> Table:
    sheet = Sheet("p1/mine.csv", sha256, "Tags", (), ())
    columns = tuple(Heading(first + at, f"H{at}") for at in range(headings))
    return Table(sheet, 1, 4, columns, 5, 20, dict.fromkeys(range(left_out), "total"))


def test_a_table_is_listed_with_where_it_stands_and_how_many_of_its_rows_were_read(
    ledger: sqlite3.Connection, tmp_path: Path
) -> None:
    tables = [table_at("5a", 1, 27, left_out=2), table_at("5a", 0, 1), table_at("6b", 2, 2)]
    insert(ledger, "tables", table_lines(tables, {0: 10, 2: 3}, {"5a": "p1"}))
    keep(
        ledger,
        "files",
        FILE,
        {},
        {"file": "found.csv", "sha256": "6b"},
        {"file": "p1/again.csv", "copy_of": "p1/mine.csv"},
    )
    lines = written(ledger, tmp_path, "sheets.csv")
    told = [
        (
            line["file"],
            line["person_id"],
            line["heading_row"],
            line["first_column"],
            line["last_column"],
            line["rows_read"],
        )
        for line in lines
    ]
    assert told == [
        ("p1/mine.csv", "p1", "4", "B", "AB", "12"),
        ("p1/mine.csv", "p1", "4", "A", "A", "0"),
        ("found.csv", "", "4", "C", "D", "3"),
        ("p1/again.csv", "p1", "4", "B", "AB", "12"),
        ("p1/again.csv", "p1", "4", "A", "A", "0"),
    ], "copies stand at the end"


def test_the_tables_of_a_file_that_was_taken_back_are_not_listed(ledger: sqlite3.Connection, tmp_path: Path) -> None:
    insert(ledger, "tables", table_lines([table_at("5a", 0, 1), table_at("6b", 0, 1)], {}, {}))
    keep(ledger, "files", FILE, {}, {"file": "p1/late.csv", "sha256": "6b", "run": 2})
    add(ledger, "undone", {"run": 2, "day": "2026-10-20"})
    assert [line["file"] for line in written(ledger, tmp_path, "sheets.csv")] == ["p1/mine.csv"]


def test_finds_stand_in_the_order_of_their_sheets(ledger: sqlite3.Connection, tmp_path: Path) -> None:
    for key, file, row in (("f1", "finds 10.csv", "2"), ("f2", "finds 2.csv", "10"), ("f3", "finds 2.csv", "9")):
        line = {"find_file": file, "find_sheet": "", "find_row": row, "tag": "AB0001", "contact": "private"}
        add(ledger, "finds", {"key": key, "file_sha256": "5a", "is_matched": False, "line": json.dumps(line)})
    lines = written(ledger, tmp_path, "finds.csv")
    assert [(line["find_file"], line["find_row"]) for line in lines] == [
        ("finds 2.csv", "9"), ("finds 2.csv", "10"), ("finds 10.csv", "2"),
    ]  # fmt: skip
    assert set(lines[0]) == set(FIND_COLUMNS) and lines[0]["km"] == ""


def test_answers_stand_in_the_order_in_which_they_came_but_for_those_taken_back(
    ledger: sqlite3.Connection, tmp_path: Path
) -> None:
    by_phone = {"file": "", "sheet": "", "row": 0, "person_id": "coordinator", "typed": "right"}
    keep(ledger, "answer_lines", ANSWER, {}, by_phone, {"row": 3, "run": 4}, {"row": 1})
    add(ledger, "undone", {"run": 4, "day": "2026-10-20"})
    lines = written(ledger, tmp_path, "answers.csv")
    assert [(line["person_id"], line["row"], line["typed"]) for line in lines] == [
        ("p1", "2", "Other value"), ("coordinator", "", "right"), ("p1", "1", "Other value"),
    ]  # fmt: skip


def test_letters_are_written_as_they_are_told(ledger: sqlite3.Connection, tmp_path: Path) -> None:
    letters = pd.DataFrame({"person_id": ["p1"], "email": ["@ines"], "questions": [3]})
    write_tables(tmp_path, ledger, letters)
    with (tmp_path / "letters.csv").open(encoding="utf-8", newline="") as file:
        assert list(csv.reader(file)) == [["person_id", "email", "questions"], ["p1", "'@ines", "3"]]


def test_what_was_written_before_is_written_over(ledger: sqlite3.Connection, tmp_path: Path) -> None:
    keep(ledger, "rows", ROW, {}, {"row": 3})
    assert len(written(ledger, tmp_path, "rows.csv")) == 2
    ledger.execute("DELETE FROM rows WHERE row = 3")
    assert len(written(ledger, tmp_path, "rows.csv")) == 1


def test_changes_written_in_a_process_of_their_own_are_the_same(ledger: sqlite3.Connection, tmp_path: Path) -> None:
    keep(ledger, "rows", ROW, {}, {"file": "p1/v2.csv"})
    keep(
        ledger, "changes", {"file": "p1/mine.csv"},
        {"file_sha256": "5a", "lines": changes(("2", "A", "sex"), ("3", "B", "eventDate"))},
    )  # fmt: skip
    together = written(ledger, tmp_path, "changes.csv")
    ledger.execute("COMMIT")
    (tmp_path / "apart").mkdir()
    assert changes_apart(tmp_path / "ledger.sqlite", tmp_path / "apart") == []
    with (tmp_path / "apart" / "changes.csv").open(encoding="utf-8", newline="") as file:
        assert list(csv.DictReader(file)) == together
