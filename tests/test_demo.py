"""The demo, run as a coordinator would: what was planted by hand is held against what comes of it."""

from __future__ import annotations

import csv
import subprocess
import sys
from collections import Counter
from pathlib import Path
from shutil import copyfile, copytree
from typing import NamedTuple

import pytest
from python_calamine import CalamineWorkbook

from pipeline.cli import main

ROOT = Path(__file__).parent.parent
DEMO = Path(__file__).parent / "demo"
STATES = {"clear", "held", "replaced", "withdrawn", "copy", "left-out"}
LINE = ("file", "sheet", "row", "field", "rule", "suggestion")


class Run(NamedTuple):
    """A finished run: its folder and its exit code."""

    folder: Path
    exit_code: int


def lines(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


@pytest.fixture(scope="module")
def run(tmp_path_factory: pytest.TempPathFactory) -> Run:
    """The demo in a folder of its own; file times are those of the copying, for nothing may hang on them."""
    folder = tmp_path_factory.mktemp("saltmarsh")
    copytree(ROOT / "inbox", folder / "inbox", copy_function=copyfile)
    (folder / "programme").mkdir()
    for path in (ROOT / "programme").glob("*.*"):
        if path.suffix in (".csv", ".toml"):
            copyfile(path, folder / "programme" / path.name)
    return Run(folder, main(["run", str(folder), "--today", "2026-11-25"]))


@pytest.fixture(scope="module")
def findings(run: Run) -> list[dict[str, str]]:
    return lines(run.folder / "outbox/coordinator/findings.csv")


def counted(entries: list[dict[str, str]]) -> Counter[tuple[str, ...]]:
    return Counter(tuple(entry[name] for name in LINE) for entry in entries)


def as_text(left_over: Counter[tuple[str, ...]]) -> str:
    return "\n".join(" | ".join(line) for line in sorted(left_over.elements()))


def test_the_run_ends_with_questions(run: Run) -> None:
    assert run.exit_code == 1


def test_every_planted_slip_is_found_with_its_field_and_suggestion(findings: list[dict[str, str]]) -> None:
    missed = counted(lines(DEMO / "planted.csv")) - counted(findings)
    assert not missed, as_text(missed)


def test_nothing_else_is_asked(findings: list[dict[str, str]]) -> None:
    asked = [finding for finding in findings if finding["severity"] != "for-information"]
    beyond = counted(asked) - counted(lines(DEMO / "planted.csv"))
    assert not beyond, as_text(beyond)


def test_what_is_told_beyond_the_planted_is_listed(findings: list[dict[str, str]]) -> None:
    told = [finding for finding in findings if finding["severity"] == "for-information"]
    beyond = counted(told) - counted(lines(DEMO / "planted.csv"))
    listed = {line["rule"] for line in lines(DEMO / "information.csv")}
    assert {rule for *_, rule, _ in beyond} <= listed


def test_the_demo_is_as_large_and_as_mixed_as_promised() -> None:
    sheets, planted = lines(DEMO / "sheets.csv"), lines(DEMO / "planted.csv")
    files = [path for path in (ROOT / "inbox").rglob("*") if path.is_file()]
    assert len(lines(ROOT / "programme/people.csv")) >= 14
    assert len(files) >= 18
    assert {path.suffix for path in files} == {".xlsx", ".xls", ".ods", ".csv", ".tsv", ".txt"}
    assert len({sheet["headings"] for sheet in sheets}) >= 12
    assert sum(int(sheet["rows"]) for sheet in sheets) >= 450
    assert len(planted) >= 60
    assert len({line["rule"] for line in planted}) >= 30


def test_the_finds_reach_from_maine_to_central_mexico(run: Run) -> None:
    finds = lines(run.folder / "outbox/coordinator/finds.csv")
    assert len(finds) >= 10
    assert max(float(find["km"] or 0) for find in finds) > 4000


def test_the_script_makes_the_same_demo_again(tmp_path: Path) -> None:
    subprocess.run([sys.executable, str(DEMO / "make_demo.py"), str(tmp_path)], check=True)
    for name in ("planted.csv", "information.csv", "sheets.csv"):
        assert (tmp_path / name).read_bytes() == (DEMO / name).read_bytes()
    for part in ("inbox", "programme"):
        made = {path.relative_to(tmp_path): path for path in (tmp_path / part).rglob("*") if path.is_file()}
        if part == "inbox":
            kept = {path.relative_to(ROOT) for path in (ROOT / part).rglob("*") if path.is_file()}
            assert set(made) == kept
        for name, path in made.items():
            assert content(path) == content(ROOT / name), name


def content(path: Path) -> object:
    """The cells of a workbook, the bytes of anything else."""
    if path.suffix not in (".xlsx", ".xls", ".ods") or path.name.startswith("IMG"):
        return path.read_bytes()
    workbook = CalamineWorkbook.from_path(path)
    return {name: workbook.get_sheet_by_name(name).to_python(skip_empty_area=False) for name in workbook.sheet_names}


def test_every_row_below_a_heading_stands_once_in_rows_csv(run: Run) -> None:
    rows = lines(run.folder / "outbox/coordinator/rows.csv")
    made = {(sheet["file"], sheet["sheet"]): int(sheet["rows"]) for sheet in lines(DEMO / "sheets.csv")}
    assert Counter((row["file"], row["sheet"]) for row in rows) == made
    places = Counter((row["file"], row["sheet"], row["row"], row["part"]) for row in rows)
    assert set(places.values()) == {1}


def test_rows_read_are_the_sum_of_their_states(run: Run) -> None:
    rows = lines(run.folder / "outbox/coordinator/rows.csv")
    states = Counter(row["state"] for row in rows)
    assert set(states) <= STATES
    assert states["copy"] == 30  # the workbook that came twice
    assert states["left-out"] == 3  # Dorothea's totals
    read = sum(int(sheet["rows_read"]) for sheet in lines(run.folder / "outbox/coordinator/sheets.csv"))
    assert read == sum(states.values())


def test_the_ids_of_clear_rows_are_those_published(run: Run) -> None:
    rows = lines(run.folder / "outbox/coordinator/rows.csv")
    clear = [row for row in rows if row["state"] == "clear"]
    batches = (run.folder / "outbox/portal").glob("*/occurrence.csv")
    published = sorted(line["occurrenceID"] for batch in batches for line in lines(batch))
    assert len(published) > 300
    assert sorted(row["occurrence_id"] for row in clear if row["occurrence_id"]) == published
    # A butterfly that was bought is no record of nature: it stays home.
    at_home = [(row["file"], row["row"]) for row in clear if not row["occurrence_id"]]
    assert at_home == [("p12/solheim-2026.xlsx", "17")]


def test_nobody_is_named_in_the_batch_without_consent(run: Run) -> None:
    people = lines(ROOT / "programme/people.csv")
    may = {person["name"] for person in people if (person["publish_name"], person["minor"]) == ("yes", "no")}
    batches = (run.folder / "outbox/portal").glob("*/occurrence.csv")
    named = {line["recordedBy"] for batch in batches for line in lines(batch)}
    assert "participant" in named
    assert named <= may | {"participant"}


def test_the_audit_of_the_batch_leaves_nothing_unexplained_and_every_known_difference_occurs(run: Run) -> None:
    told = lines(run.folder / "outbox/coordinator/audit.csv")
    assert [line for line in told if line["is_known"] != "yes"] == []
    known = {(line["test"], line["reason"]) for line in lines(ROOT / "schemas/audit_known.csv")}
    assert {(line["test"], line["says"]) for line in told} == known
