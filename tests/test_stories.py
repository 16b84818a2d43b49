"""Stories: a season goes through one run or several; after each the whole outbox is held against the one written down.

A story is a folder with `programme` and either `inbox` and `outbox`, or a folder for each step (`1 first sheets`, ...)
with its own `outbox` and what happens before that run: `inbox` (files that come), `answers.csv` (what somebody writes
into the question sheet that lies in the outbox: person, number, answer, other, why), `commands.txt` (what the
coordinator types), `gone.txt` (files that are taken out of the inbox). The steps are a day apart.

To write the outboxes down anew after reading the differences: TAGSHEAF_WRITE_STORIES=1 pytest tests/test_stories.py
"""

from __future__ import annotations

import csv
import os
import shlex
import shutil
from datetime import timedelta
from pathlib import Path

import pytest
from openpyxl import load_workbook

from pipeline.cli import main
from pipeline.files.gate_client import Gate
from pipeline.flow import run
from tests.season_folder import TODAY, write_sheet

STORIES = Path(__file__).parent / "stories"
COMPARED = (".csv", ".txt")  # the words; pages, mails and workbooks are named and looked at in tests of their own


def told(outbox: Path) -> dict[str, str]:
    """The outbox as text: the words of its tables and letters, and the names of all its files."""
    paths = sorted(path for path in outbox.rglob("*") if path.is_file())
    names = "".join(path.relative_to(outbox).as_posix() + "\n" for path in paths if path.name != "files.txt")
    texts = {
        path.relative_to(outbox).as_posix(): path.read_text(encoding="utf-8")
        for path in paths
        if path.suffix in COMPARED
    }
    return {**texts, "files.txt": names}


@pytest.mark.parametrize("name", sorted(path.name for path in STORIES.iterdir() if path.is_dir()))
def test_a_story_ends_as_it_is_written_down(name: str, tmp_path: Path, gate: Gate) -> None:
    story, folder = STORIES / name, tmp_path / "season"
    shutil.copytree(story / "programme", folder / "programme")
    (folder / "inbox").mkdir()
    steps = (
        [story] if (story / "inbox").is_dir() else sorted(path for path in story.iterdir() if path.name[0].isdigit())
    )
    for day, step in enumerate(steps):
        _happens(step, folder)
        run(folder, TODAY + timedelta(days=day), lambda: gate)
        came = told(folder / "outbox")
        if os.environ.get("TAGSHEAF_WRITE_STORIES"):
            _write_down(step / "outbox", came)
        assert came == _written_down(step / "outbox"), step.name


def _happens(step: Path, folder: Path) -> None:
    """What comes and is done before the run of a step."""
    if (step / "inbox").is_dir():
        shutil.copytree(step / "inbox", folder / "inbox", dirs_exist_ok=True)
    if (step / "answers.csv").is_file():
        with (step / "answers.csv").open(encoding="utf-8", newline="") as file:
            _answer(folder, step.name, list(csv.DictReader(file)))
    for line in (step / "commands.txt").read_text("utf-8").splitlines() if (step / "commands.txt").is_file() else ():
        assert main([*shlex.split(line), "--folder", str(folder)]) == 0, line
    for line in (step / "gone.txt").read_text("utf-8").splitlines() if (step / "gone.txt").is_file() else ():
        (folder / "inbox" / line).unlink()


def _answer(folder: Path, step: str, answers: list[dict[str, str]]) -> None:
    """Somebody fills in the question sheet that lies in the outbox, and sends it back."""
    for person in sorted({line["person"] for line in answers}):
        book = load_workbook(folder / "outbox" / "volunteers" / person / "questions.xlsx")
        page = book.worksheets[0]
        by_number = {page.cell(row, 2).value: row for row in range(2, page.max_row + 1)}
        for line in answers:
            for column, name in ((8, "answer"), (9, "other"), (10, "why")) if line["person"] == person else ():
                page.cell(by_number[line["number"]], column).value = line[name] or None
        # As CSV: a workbook that is saved carries the time at which it was.
        cells = [["" if cell is None else str(cell) for cell in row] for row in page.values]
        write_sheet(folder / "inbox" / person / f"questions, {step}.csv", cells[1:], cells[0])


def _written_down(outbox: Path) -> dict[str, str]:
    return {
        path.relative_to(outbox).as_posix(): path.read_text(encoding="utf-8")
        for path in sorted(outbox.rglob("*"))
        if path.is_file()
    }


def _write_down(outbox: Path, came: dict[str, str]) -> None:
    shutil.rmtree(outbox, ignore_errors=True)
    for name, text in came.items():
        path = outbox / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8", newline="")
