"""The whole pipeline on small folders: what is asked, what goes out, what a second run does."""

from __future__ import annotations

import hashlib
import json
import shutil
import sqlite3
from collections.abc import Callable
from pathlib import Path

import pytest
from openpyxl import load_workbook

from pipeline.cli import main
from pipeline.files.gate_client import Gate
from pipeline.flow import How, Outcome, run
from tests.season_folder import (
    HEADINGS,
    PEOPLE,
    SETTINGS,
    TAGS,
    TODAY,
    clean_rows,
    findings,
    make_folder,
    read_table,
    rows,
    write_sheet,
)

Run = Callable[[Path], Outcome]


@pytest.fixture
def go(gate: Gate) -> Run:
    return lambda folder: run(folder, TODAY, lambda: gate)


def occurrences(folder: Path, batch: str = "2026-0001") -> list[dict[str, str]]:
    return [dict(line) for line in read_table(folder / "outbox" / "portal" / batch / "occurrence.csv")]


def contents(folder: Path) -> dict[str, str]:
    """Every file below the folder with a digest of its bytes."""
    return {
        path.relative_to(folder).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


def test_clean_rows_go_out_and_nothing_is_asked(tmp_path: Path, go: Run) -> None:
    folder = make_folder(tmp_path)
    write_sheet(folder / "inbox" / "p1" / "mine.csv", clean_rows(1, 12))
    outcome = go(folder)
    assert outcome.exit_code == 0
    assert [line["severity"] for line in findings(folder) if line["severity"] != "for-information"] == []
    assert len(occurrences(folder)) == 12
    assert (folder / "outbox" / "volunteers" / "p1" / "letter.txt").is_file()
    assert not (folder / "outbox" / "volunteers" / "p1" / "questions.xlsx").exists()


def test_the_inbox_is_never_changed(tmp_path: Path, go: Run) -> None:
    folder = make_folder(tmp_path)
    write_sheet(folder / "inbox" / "p1" / "mine.csv", clean_rows(1, 12))
    before = contents(folder / "inbox")
    go(folder)
    assert contents(folder / "inbox") == before


def test_the_same_inbox_again_changes_nothing_and_writes_no_batch(tmp_path: Path, go: Run) -> None:
    folder = make_folder(tmp_path)
    write_sheet(
        folder / "inbox" / "p1" / "mine.csv", [*clean_rows(1, 12), ["AB0013", "31/09/2026", "male", "Amherst", "", ""]]
    )
    first = go(folder)
    before = contents(folder / "outbox")
    second = go(folder)
    assert second.is_unchanged and second.exit_code == first.exit_code == 1
    assert contents(folder / "outbox") == before


def test_a_lost_outbox_is_written_again_from_the_ledger(tmp_path: Path, go: Run) -> None:
    folder = make_folder(tmp_path)
    write_sheet(folder / "inbox" / "p1" / "mine.csv", clean_rows(1, 12))
    go(folder)
    before = {
        name: digest for name, digest in contents(folder / "outbox" / "coordinator").items() if name.endswith(".csv")
    }
    shutil.rmtree(folder / "outbox" / "coordinator")
    go(folder)
    after = contents(folder / "outbox" / "coordinator")
    assert {name: after[name] for name in before} == before


def test_a_second_sheet_makes_a_second_batch_with_only_what_is_new(tmp_path: Path, go: Run) -> None:
    folder = make_folder(tmp_path)
    write_sheet(folder / "inbox" / "p1" / "mine.csv", clean_rows(1, 12))
    go(folder)
    first = {line["occurrenceID"] for line in occurrences(folder)}
    write_sheet(folder / "inbox" / "p2" / "fiche.csv", clean_rows(31, 10))
    go(folder)
    second = {line["occurrenceID"] for line in occurrences(folder, "2026-0002")}
    assert len(second) == 10 and not first & second


def test_the_same_bytes_under_another_name_are_a_copy(tmp_path: Path, go: Run) -> None:
    folder = make_folder(tmp_path)
    sheet = write_sheet(folder / "inbox" / "p1" / "mine.csv", clean_rows(1, 12))
    shutil.copyfile(sheet, sheet.with_name("mine again.csv"))
    outcome = go(folder)
    assert outcome.figures.rows["copy"] == 12 and outcome.figures.rows["clear"] == 12
    assert {line["rule"] for line in findings(folder)} == {"same_file_came_before"}


def test_a_file_that_moved_keeps_the_ids_of_its_rows(tmp_path: Path, go: Run) -> None:
    folder = make_folder(tmp_path)
    sheet = write_sheet(folder / "inbox" / "p1" / "mine.csv", clean_rows(1, 12))
    go(folder)
    before = {line["row"]: line["occurrence_id"] for line in rows(folder)}
    (folder / "inbox" / "p1" / "sent").mkdir()
    sheet.rename(folder / "inbox" / "p1" / "sent" / "first sheet.csv")
    outcome = go(folder)
    after = rows(folder)
    assert {line["row"]: line["occurrence_id"] for line in after} == before
    assert {line["file"] for line in after} == {"p1/sent/first sheet.csv"}
    assert outcome.figures.batch == {}


def test_a_row_that_is_held_after_it_was_published_is_named_as_withdrawn(tmp_path: Path, go: Run) -> None:
    folder = make_folder(tmp_path)
    write_sheet(folder / "inbox" / "p1" / "mine.csv", clean_rows(1, 12))
    go(folder)
    twice = write_sheet(
        folder / "inbox" / "p2" / "fiche.csv", [["AB0001", *clean_rows(31, 1)[0][1:]], *clean_rows(32, 9)]
    )
    go(folder)
    gone = read_table(folder / "outbox" / "portal" / "2026-0002" / "withdrawn.csv")
    published = next(line for line in rows(folder) if line["file"] == "p1/mine.csv" and line["row"] == "2")
    assert [line["occurrenceID"] for line in gone] == [published["occurrence_id"]]
    assert published["state"] == "held"
    twice.unlink()
    assert go(folder).figures.rows["held"] == 2, "a file gone from the inbox changes nothing"


FIRES = {
    # a rule of each scope, by a sheet that is unlike the rule's own examples: (sheet, rows, headings)
    "file": ("day_is_no_table", [["a walk by the sea"], ["and nothing tagged"]], ["Dear all,"], "no_heading_row_found"),
    "heading": ("two_tags", [["AB0001", "AB0002", "2026-09-04", "Amherst"]], ["Tag", "Tag code", "Date", "Town"],
                "two_headings_for_one_field"),
    "cell": ("stage", [["AB0003", "2026-09-04", "male", "Amherst", "", "51", "caterpillar"]], [*HEADINGS, "Stage"],
             "stage_without_a_wing"),
    "row": ("noplace", [["AB0004", "2026-09-04", "male", "", "", "51"]], None, "no_place_at_all"),
    "sheet": ("year", [*clean_rows(1, 6), ["AB0010", "2024-09-12", "male", "Amherst", "Nova Scotia", "51"]], None,
              "year_apart_from_the_others"),
    "season": ("twice", [["AB0031", "2026-09-09", "male", "Amherst", "Nova Scotia", "51"]], None,
               "tag_in_two_peoples_sheets"),
}  # fmt: skip


@pytest.mark.parametrize("scope", FIRES)
def test_a_rule_of_each_scope_fires_through_a_run(scope: str, tmp_path: Path, go: Run) -> None:
    name, lines, headings, rule = FIRES[scope]
    folder = make_folder(tmp_path)
    write_sheet(folder / "inbox" / "p1" / f"{name}.csv", lines, headings)
    write_sheet(folder / "inbox" / "p2" / "fiche.csv", clean_rows(31, 5))
    go(folder)
    assert rule in {line["rule"] for line in findings(folder)}


def test_a_rule_about_a_person_fires_through_a_run(tmp_path: Path, go: Run) -> None:
    folder = make_folder(tmp_path)
    write_sheet(folder / "inbox" / "p1" / "a.csv", clean_rows(1, 5))
    write_sheet(folder / "inbox" / "p1" / "b.csv", [*clean_rows(7, 5), *clean_rows(2, 1)])
    go(folder)
    doubled = [line for line in findings(folder) if line["rule"] == "tag_in_two_of_your_sheets"]
    assert {(line["file"], line["row"]) for line in doubled} == {("p1/a.csv", "3"), ("p1/b.csv", "7")}


def test_names_homes_and_children_stay_in_the_house(tmp_path: Path, go: Run) -> None:
    folder = make_folder(tmp_path)
    headings = ["Tag", "Date", "Sex", "Latitude", "Longitude", "Place", "Released by", "Notes"]
    home = ["2026-09-04", "male", "45.9003", "-64.3701", "12 Marsh Lane", "Rémi Doucet", "call 506 555 0142"]
    child = ["2026-09-05", "male", "45.0771", "-64.4962", "behind Tess's school", "Tess Okpara", "Tess was so proud"]
    write_sheet(folder / "inbox" / "p2" / "fiche.csv", [["AB0031", *home]], headings)
    write_sheet(folder / "inbox" / "p3" / "tess.csv", [["AB0061", *child]], headings)
    go(folder)
    public = "".join(path.read_text() for path in (folder / "outbox" / "portal").rglob("*.csv"))
    for private in ("Doucet", "Tess", "Okpara", "Marsh Lane", "555", "45.9003", "45.0771", "school", "proud"):
        assert private not in public, private
    lines = {line["organismName"]: line for line in occurrences(folder)}
    assert lines["AB0031"]["decimalLatitude"] == "45.90" and lines["AB0061"]["decimalLongitude"] == "-64.50"
    assert all(line["dataGeneralizations"] and line["recordedBy"] == "participant" for line in lines.values())


def test_what_the_gate_refuses_stays_home_and_everything_else_is_written(tmp_path: Path, go: Run) -> None:
    settings = SETTINGS.replace("rights_holder", 'licence = "ask Maud"\nrights_holder')
    folder = make_folder(tmp_path, settings=settings)
    write_sheet(folder / "inbox" / "p1" / "mine.csv", clean_rows(1, 12))
    outcome = go(folder)
    assert outcome.exit_code == 3 and outcome.figures.refusals
    assert {(line["state"], line["reason"]) for line in rows(folder)} == {("held", "gate")}
    assert not list((folder / "outbox" / "portal").glob("*"))
    gate_folder = folder / "outbox" / "coordinator" / "gate"
    assert (gate_folder / "2026-0001" / "occurrence.csv").is_file()
    assert "The licence is missing or is not a web address." in (gate_folder / "why.txt").read_text()
    assert (folder / "outbox" / "volunteers" / "p1" / "letter.txt").is_file()
    (folder / "programme" / "programme.toml").write_text(SETTINGS)
    assert go(folder).exit_code == 0
    assert len(occurrences(folder)) == 12
    assert not gate_folder.exists(), "what is put right is not shown any more"


def test_a_run_ended_between_its_commit_and_the_rename_is_finished_by_the_next(tmp_path: Path, go: Run) -> None:
    folder = make_folder(tmp_path)
    write_sheet(folder / "inbox" / "p1" / "mine.csv", clean_rows(1, 12))
    go(folder)
    before = contents(folder / "outbox" / "portal")
    (folder / "outbox" / ".staging").mkdir()
    (folder / "outbox" / "portal" / "2026-0001").rename(folder / "outbox" / ".staging" / "2026-0001")
    (folder / "outbox" / "coordinator" / "stamp.txt").unlink()
    go(folder)
    assert contents(folder / "outbox" / "portal") == before


def test_a_dry_run_writes_nothing(tmp_path: Path, gate: Gate) -> None:
    folder = make_folder(tmp_path)
    write_sheet(folder / "inbox" / "p1" / "mine.csv", clean_rows(1, 12))
    before = contents(folder)
    outcome = run(folder, TODAY, lambda: gate, How(is_trial=True))
    assert outcome.figures.rows["clear"] == 12
    assert contents(folder) == before


def test_the_outbox_is_the_same_whatever_the_order_in_which_files_were_made(tmp_path: Path, go: Run) -> None:
    sheets = {"p1/b.csv": clean_rows(1, 6), "p1/a.csv": clean_rows(11, 6), "p2/c.csv": clean_rows(31, 6)}
    outboxes = []
    for number, names in enumerate((list(sheets), list(reversed(sheets)))):
        folder = make_folder(tmp_path / str(number))
        for name in names:
            write_sheet(folder / "inbox" / name, sheets[name])
        go(folder)
        outboxes.append(contents(folder / "outbox"))
    assert outboxes[0] == outboxes[1]


def test_a_file_of_nothing_is_one_finding_and_the_rest_goes_on(tmp_path: Path, go: Run) -> None:
    folder = make_folder(tmp_path)
    write_sheet(folder / "inbox" / "p1" / "mine.csv", clean_rows(1, 12))
    (folder / "inbox" / "p1" / "empty.xlsx").write_bytes(b"")
    outcome = go(folder)
    asked = [line for line in findings(folder) if line["severity"] == "must-answer"]
    assert [(line["file"], line["rule"]) for line in asked] == [("p1/empty.xlsx", "file_not_opened")]
    assert outcome.figures.rows["clear"] == 12 and outcome.exit_code == 1


BROKEN_RULE = """
from pipeline.rule import Examples, Rule

def finds(rows):
    return rows["no such column"] > 1

RULE = Rule(title="Broken", severity="please-check", scope="row", asks="tagger", fields=("sex",), message="", why="",
            source="", examples=Examples("", "", ""))
"""


def test_a_rule_that_raises_is_our_fault_and_is_named(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    import pipeline.rules
    from pipeline.catalogue import catalogue

    (tmp_path / "rules" / "oddity").mkdir(parents=True)
    (tmp_path / "rules" / "oddity" / "__init__.py").write_text("")
    (tmp_path / "rules" / "oddity" / "always_breaks.py").write_text(BROKEN_RULE)
    folder = make_folder(tmp_path / "season")
    write_sheet(folder / "inbox" / "p1" / "mine.csv", clean_rows(1, 12))
    pipeline.rules.__path__.append(str(tmp_path / "rules"))
    catalogue.cache_clear()
    try:
        code = main(["run", str(folder), "--today", TODAY.isoformat()])
    finally:
        pipeline.rules.__path__.pop()
        catalogue.cache_clear()
    said = capsys.readouterr().err
    assert code == 5 and "always_breaks" in said and "Traceback" not in said
    assert not (folder / "outbox" / "coordinator").exists()


UNUSABLE = {
    "no programme at all": lambda folder: shutil.rmtree(folder / "programme"),
    "an unknown setting": lambda folder: _append(folder / "programme" / "programme.toml", "\n[letters2]\nsigned = 1\n"),
    "two people with one id": lambda folder: _append(folder / "programme" / "people.csv", "P1,Somebody,,,,,,,,,,\n"),
    "a tag handed out twice": lambda folder: _append(folder / "programme" / "tags.csv", "2026,AB0040,AB0041,p1,,\n"),
    "tags for nobody": lambda folder: _append(folder / "programme" / "tags.csv", "2026,AB0080,AB0089,p9,,\n"),
    "a range that counts down": lambda folder: _append(folder / "programme" / "tags.csv", "2026,AB0099,AB0090,p1,,\n"),
    "a ledger that is none": lambda folder: (folder / "programme" / "ledger.sqlite").write_text("a letter to Maud"),
    "a newer ledger": lambda folder: _newer_ledger(folder),
    "a ledger of another programme": lambda folder: _other_ledger(folder),
    "another run at work": lambda folder: _locked(folder),
}


def _append(path: Path, text: str) -> None:
    path.write_text(path.read_text() + text)


def _ledger(folder: Path, version: int, owner: str) -> None:
    with sqlite3.connect(folder / "programme" / "ledger.sqlite") as ledger:
        ledger.execute("CREATE TABLE about (schema_version INTEGER, programme_id TEXT)")
        ledger.execute("INSERT INTO about VALUES (?, ?)", (version, owner))


def _newer_ledger(folder: Path) -> None:
    _ledger(folder, 99, "marsh")


def _other_ledger(folder: Path) -> None:
    _ledger(folder, 1, "dune")


_HELD_OPEN: list[sqlite3.Connection] = []


def _locked(folder: Path) -> None:
    ledger = sqlite3.connect(folder / "programme" / "ledger.sqlite", isolation_level=None)
    ledger.execute("BEGIN IMMEDIATE")
    _HELD_OPEN.append(ledger)


@pytest.mark.parametrize("what", UNUSABLE)
def test_what_a_person_can_put_right_is_one_plain_line_and_exit_code_4(
    what: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = make_folder(tmp_path)
    write_sheet(folder / "inbox" / "p1" / "mine.csv", clean_rows(1, 3))
    UNUSABLE[what](folder)
    code = main(["run", str(folder), "--today", TODAY.isoformat()])
    for ledger in _HELD_OPEN:
        ledger.close()
    said = capsys.readouterr().err.strip()
    assert code == 4 and len(said.splitlines()) == 1 and "Traceback" not in said, said
    assert not (folder / "outbox").exists()


def test_the_figures_as_json(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder = make_folder(tmp_path)
    write_sheet(folder / "inbox" / "p1" / "mine.csv", clean_rows(1, 3))
    code = main(["run", str(folder), "--today", TODAY.isoformat(), "--json"])
    told = json.loads(capsys.readouterr().out)
    assert code == told["exit_code"] == 0 and told["rows"]["clear"] == 3


def test_both_conservation_laws_are_printed(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder = make_folder(tmp_path, people=PEOPLE, tags=TAGS)
    write_sheet(folder / "inbox" / "p1" / "mine.csv", [*clean_rows(1, 3), ["Total", "3", "", "", "", ""]])
    main(["run", str(folder), "--today", TODAY.isoformat(), "--dry-run"])
    said = " ".join(capsys.readouterr().out.split())
    assert "4 read = 3 clear + 0 held + 0 replaced + 0 withdrawn + 0 copies + 1 left out" in said
    assert "70 allotted = 3 released + 1 returned + 0 lost + 0 spoiled + 0 kept for next year + 66 not heard of" in said


def test_the_coordinators_book_holds_everybodys_questions_their_own_first(tmp_path: Path, go: Run) -> None:
    folder = make_folder(tmp_path)
    write_sheet(folder / "inbox" / "p1" / "mine.csv", [*clean_rows(1, 5), ["AB0009", "", "male", "Amherst", "", ""]])
    write_sheet(folder / "inbox" / "p2" / "fiche.csv", [["AB0031", "", "male", "Amherst", "", ""], *clean_rows(32, 5)])
    write_sheet(folder / "inbox" / "whose.csv", [["ZZ0001", "2026-09-04", "male", "Amherst", "Nova Scotia", "51"]])
    go(folder)
    book = load_workbook(folder / "outbox" / "coordinator" / "questions.xlsx")
    lines = list(book.worksheets[0].iter_rows(min_row=2, values_only=True))
    assert [line[1] for line in lines] == [str(number) for number in range(1, len(lines) + 1)]
    whose = [str(line[-1]).split(":")[0] for line in lines]
    assert whose == sorted(whose, key=lambda name: (name != "coordinator", name)) and {"p1", "p2"} < set(whose)
