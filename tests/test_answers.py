"""A question sheet that comes back is told from a sheet about butterflies, and kept for later."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from pipeline.files.gate_client import Gate
from pipeline.flow import run
from pipeline.model import FileRead, Sheet
from pipeline.stages.answers import holds_answers
from pipeline.values.ref import ref_of
from tests.season_folder import TODAY, clean_rows, make_folder, rows, write_sheet

REF = ref_of("an invented question")


@pytest.mark.parametrize(
    ("texts", "is_one"),
    [
        pytest.param((("Ref", "No."), (REF, "1")), True, id="a column of Refs"),
        pytest.param((("Ref", "No."), ("", ""), (REF, "1")), True, id="a blank line before the first Ref"),
        pytest.param(
            (("Ref", "No."), (REF[:-1] + "2" if REF[-1] != "2" else REF[:-1] + "3", "1")),
            False,
            id="a check character that does not fit",
        ),
        pytest.param((("Tag", "Day"), (REF, "1")), False, id="a tag column that happens to hold such a text"),
        pytest.param((), False, id="an empty sheet"),
    ],
)
def test_a_file_is_an_answer_file_if_its_refs_fit(texts: tuple[tuple[str, ...], ...], is_one: bool) -> None:
    sheet = Sheet("x.csv", "0", "", texts, tuple("t" * len(row) for row in texts))
    assert holds_answers(FileRead("x.csv", "0", (sheet,))) is is_one


def test_an_answered_question_sheet_in_the_inbox_changes_no_row(tmp_path: Path, gate: Gate) -> None:
    folder = make_folder(tmp_path)
    write_sheet(folder / "inbox" / "p1" / "mine.csv", [*clean_rows(1, 5), ["AB0009", "2026-09-09", "male", "", "", ""]])
    run(folder, TODAY, lambda: gate)
    before = rows(folder)
    shutil.copyfile(
        folder / "outbox" / "volunteers" / "p1" / "questions.xlsx", folder / "inbox" / "p1" / "answers.xlsx"
    )
    outcome = run(folder, TODAY, lambda: gate)
    assert rows(folder) == before
    assert any("answers.xlsx holds answers" in note for note in outcome.notes)
