"""A data desk's reply is traced to the cells that the taggers wrote."""

from __future__ import annotations

import csv
from collections.abc import Mapping
from pathlib import Path

import pytest
from openpyxl import Workbook

from pipeline.cli import main
from pipeline.files.gate_client import Gate
from pipeline.files.trace_file import lines_in
from pipeline.flow import run
from pipeline.model import FileRead, Sheet
from tests.season_folder import TODAY, clean_rows, make_folder, read_table, write_sheet

FIELDS = ("tagCode", "eventDate", "sex", "decimalLatitude", "municipality")
UNKNOWN = "urn:uuid:00000000-0000-5000-8000-000000000000"


@pytest.fixture
def folder(tmp_path: Path, gate: Gate, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A season that was run: the date of row 4 was typed as 6/9/2026 in a sheet that proves day-first."""
    made = make_folder(tmp_path / "season")
    lines = clean_rows(1, 12)
    lines[2][1], lines[3][1] = "5 Sept 2026", "2026-09-06"
    write_sheet(made / "inbox" / "p1" / "mine.csv", lines)
    write_sheet(made / "inbox" / "p2" / "fiche.csv", clean_rows(31, 6))
    run(made, TODAY, lambda: gate)
    monkeypatch.chdir(made)
    return made


def ids(folder: Path) -> dict[str, str]:
    lines = read_table(folder / "outbox" / "portal" / "2026-0001" / "occurrence.csv")
    return {line["organismName"]: line["occurrenceID"] for line in lines}


def traced(folder: Path, name: str) -> list[Mapping[str, str]]:
    return read_table(folder / "outbox" / "coordinator" / f"traced-{name}.csv")


def reply(path: Path, lines: list[list[str]], delimiter: str = ",") -> Path:
    with path.open("w", encoding="utf-8", newline="") as file:
        csv.writer(file, delimiter=delimiter).writerows(lines)
    return path


def test_a_line_comes_back_with_person_file_row_column_and_cell(folder: Path, tmp_path: Path) -> None:
    desk = [["occurrenceID", "field", "remark"], [ids(folder)["AB0003"], "eventDate", "a day?"]]
    assert main(["trace", str(reply(tmp_path / "desk.csv", desk))]) == 0
    (line,) = traced(folder, "desk")
    told = {
        name: line[name] for name in ("person_id", "name", "file", "sheet", "row", "column", "field", "seen", "state")
    }
    assert told == {
        "person_id": "p1", "name": "Ines Melanson", "file": "p1/mine.csv", "sheet": "", "row": "4", "column": "B",
        "field": "eventDate", "seen": "5 Sept 2026", "state": "clear",
    }  # fmt: skip
    assert line["cells"].startswith("A Tag: AB0003 | B Date: 5 Sept 2026 | C Sex: male")
    assert (line["line"], line["desk: remark"]) == ("2", "a day?"), "what the desk wrote stays beside it"


def test_any_table_will_do_however_the_id_is_dressed(folder: Path, tmp_path: Path) -> None:
    one = ids(folder)["AB0031"]
    book = Workbook()
    book.active.append(["Our findings of November"])
    book.active.append([])
    book.active.append(["No.", "dwc:occurrenceID"])
    book.active.append([1, one.removeprefix("urn:uuid:").upper()])
    book.save(tmp_path / "desk.xlsx")
    reply(tmp_path / "tabs.tsv", [["http://rs.tdwg.org/dwc/terms/occurrenceID"], [one]], "\t")
    for name in ("desk.xlsx", "tabs.tsv"):
        assert main(["trace", str(tmp_path / name)]) == 0
        (line,) = traced(folder, Path(name).stem)
        assert (line["person_id"], line["file"], line["row"]) == ("p2", "p2/fiche.csv", "2")


def test_an_unknown_id_is_said_plainly(folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    desk = reply(tmp_path / "desk.csv", [["occurrenceID"], [ids(folder)["AB0001"]], [UNKNOWN], ["what is this"]])
    assert main(["trace", str(desk)]) == 0
    told = capsys.readouterr().out
    assert "1 of 3 lines are about records of 1 person." in told
    assert "line 3: no record of ours has this id" in told and "what is this" in told
    assert [line["note"] for line in traced(folder, "desk")][1:] == ["no record of ours has this id"] * 2


def test_a_record_of_an_earlier_season_is_named_as_such(folder: Path, tmp_path: Path) -> None:
    past = reply(tmp_path / "old.csv", [["occurrenceID", "organismName"], [UNKNOWN, "AB9999"]])
    assert main(["past", str(past), "--season", "2025"]) == 0
    assert main(["trace", str(reply(tmp_path / "desk.csv", [["occurrenceID"], [UNKNOWN]]))]) == 0
    assert traced(folder, "desk")[0]["note"] == "of season 2025, taken in from old.csv"


def test_tracing_changes_nothing(folder: Path, tmp_path: Path) -> None:
    ledger = folder / "programme" / "ledger.sqlite"
    before = ledger.read_bytes()
    assert main(["trace", str(reply(tmp_path / "desk.csv", [["occurrenceID"], [UNKNOWN]]))]) == 0
    assert ledger.read_bytes() == before


def test_what_cannot_be_traced_is_said(folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "photo.png").write_bytes(b"\x89PNG\r\n\x1a\n" + b"\0" * 100)
    assert main(["trace", str(reply(tmp_path / "desk.csv", [["id"], [UNKNOWN]]))]) == 1
    assert "no column of it is called occurrenceID" in capsys.readouterr().out
    assert main(["trace", str(tmp_path / "photo.png")]) == 1
    assert "cannot be traced" in capsys.readouterr().out
    assert main(["trace", "nothing.csv"]) == 4


def test_before_the_first_run_no_id_is_known(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    made = make_folder(tmp_path / "season")
    desk = reply(tmp_path / "desk.csv", [["occurrenceID"], [UNKNOWN]])
    assert main(["trace", str(desk), "--folder", str(made)]) == 4
    assert "no run yet" in capsys.readouterr().err
    assert not (made / "programme" / "ledger.sqlite").exists()


SPOKEN_OF = {
    "its name": ("eventDate", "eventDate"),
    "with its address": ("http://rs.tdwg.org/dwc/terms/decimalLatitude", "decimalLatitude"),
    "another term of the same cell": ("verbatimEventDate", "eventDate"),
    "a plain word as the whole cell": ("sex", "sex"),
    "a name within a sentence": ("the decimalLatitude lies at sea", "decimalLatitude"),
    "a plain word within a sentence": ("in which month and year of what sex", ""),
    "nothing": ("please check", ""),
}


@pytest.mark.parametrize("name", SPOKEN_OF)
def test_the_field_that_a_line_speaks_of(name: str) -> None:
    text, field = SPOKEN_OF[name]
    sheet = Sheet("desk.csv", "ab", "", (("occurrenceID", "what"), (UNKNOWN, text)), ("tt", "tt"))
    told = lines_in(FileRead("desk.csv", "ab", (sheet,)), FIELDS)
    assert told is not None and [line.field for line in told] == [field]
