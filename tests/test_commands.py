"""The coordinator's commands as they are typed: what they say, what they change, how they end."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

from pipeline.cli import main
from pipeline.files.gate_client import Gate
from pipeline.flow import run
from tests.season_folder import TODAY, clean_rows, make_folder, read_table, rows, write_sheet

Say = Callable[..., tuple[int, str]]


@pytest.fixture
def folder(tmp_path: Path, gate: Gate) -> Path:
    """A season in which Ines was asked about a day, and Rémi about nothing."""
    made = make_folder(tmp_path / "season")
    doubtful = ["AB0013", "31/09/2026", "male", "Amherst", "Nova Scotia", "51"]
    write_sheet(made / "inbox" / "p1" / "mine.csv", [*clean_rows(1, 12), doubtful])
    write_sheet(made / "inbox" / "p2" / "fiche.csv", clean_rows(31, 6))
    run(made, TODAY, lambda: gate)
    return made


@pytest.fixture
def say(folder: Path, capsys: pytest.CaptureFixture[str]) -> Say:
    """Types a command; its exit code and all that it said, which fits 80 columns."""

    def typed(*words: str) -> tuple[int, str]:
        capsys.readouterr()
        place = [str(folder)] if words[0] == "status" else ["--folder", str(folder)]
        code = main([words[0], *place, *words[1:]] if words[0] == "status" else [*words, *place])
        out = capsys.readouterr()
        return code, out.out + out.err

    return typed


def ref_of_the_question(folder: Path) -> str:
    letter = (folder / "outbox" / "volunteers" / "p1" / "letter.txt").read_text(encoding="utf-8")
    return letter.split("Ref: ")[1][:7]


def letters(folder: Path) -> dict[str, dict[str, str]]:
    return {line["person_id"]: dict(line) for line in read_table(folder / "outbox" / "coordinator" / "letters.csv")}


def test_status_says_who_is_silent_what_is_open_and_whom_to_write_to(say: Say) -> None:
    code, told = say("status", "--today", "2026-10-30")
    assert code == 1
    assert "No sheet seen yet: p3" in told and "Tags not heard of" in told
    assert "1 one to four weeks old" in told and "Write to: p1" in told
    assert all(len(line) <= 80 for line in told.splitlines())


def test_a_round_begins_when_letters_were_sent_and_reminders_are_counted(say: Say, folder: Path, gate: Gate) -> None:
    code, told = say("sent", "p1", "--on", "2026-10-20")
    assert code == 0 and "due by 2026-11-03" in told
    run(folder, date(2026, 10, 25), lambda: gate)
    assert "Answers due: p1" in say("status", "--today", "2026-10-25")[1]
    assert (letters(folder)["p1"]["reminder"], letters(folder)["p1"]["write_on"]) == ("1", "2026-10-30")
    assert "Remind: p1" in say("status", "--today", "2026-10-30")[1]
    for day in ("2026-10-30", "2026-11-09"):
        say("sent", "--all", "--on", day)
    run(folder, date(2026, 11, 20), lambda: gate)
    assert "At rest: p1" in say("status", "--today", "2026-11-20")[1]
    assert (
        letters(folder)["p1"]["due"] == ""
        and next(line["state"] for line in rows(folder) if line["file"] == "p1/mine.csv" and line["row"] == "14")
        == "held"
    ), "after the last reminder the row rests as held"


ANSWERS = {
    # what is typed after the Ref: exit code, what is said
    "a value": ("29 Sept 2026", 0, "Taken."),
    "right": ("right", 0, "it stays as it is"),
    "unknown": ("unknown", 0, "Taken."),
    "a suggestion where there is none": ("suggestion", 1, "no suggestion"),
}


@pytest.mark.parametrize(("what", "code", "says"), ANSWERS.values(), ids=ANSWERS)
def test_an_answer_by_telephone(what: str, code: int, says: str, say: Say, folder: Path) -> None:
    told = say("answer", ref_of_the_question(folder), what, "--because", "said so by telephone")
    assert told[0] == code and says in told[1]


WRONG = {
    "no Ref": (("answer", "K3", "right", "--because", "x"), "is not a Ref"),
    "a Ref of no question": (("answer", "JV38FVV", "right", "--because", "x"), "No question has the Ref"),
    "nobody of this name": (("sent", "p9"), "Nobody in people.csv"),
    "no such batch": (("delivered", "2026-0009"), "the batches are 2026-0001"),
    "nothing to withdraw": (("withdraw", "K3H8M2Q", "--because", "x"), "No question, row or record"),
    "no such file": (("past", "nowhere.csv", "--season", "2025"), "There is no file"),
}  # fmt: skip


@pytest.mark.parametrize(("words", "says"), WRONG.values(), ids=WRONG)
def test_a_slip_is_one_plain_line(words: tuple[str, ...], says: str, say: Say) -> None:
    code, told = say(*words)
    assert code == 4 and says in told and "Traceback" not in told


def test_history_tells_of_a_tag_a_person_a_file_and_an_id(say: Say, folder: Path) -> None:
    record = next(line["occurrence_id"] for line in rows(folder) if line["occurrence_id"])
    for thing, says in (
        ("AB0001", "p1/mine.csv, row 2 from p1: clear"),
        ("p1", "question 1"),
        ("mine.csv", "row 14: held (day_not_in_calendar)"),
        (record, "in batch 2026-0001"),
        (ref_of_the_question(folder), "day not in calendar: open"),
    ):
        code, told = say("history", thing)
        assert code == 0 and says in " ".join(told.split()), thing
    assert say("history", "nothing of the kind")[0] == 1


def test_what_was_done_by_hand_stands_in_the_history(say: Say, folder: Path) -> None:
    say("answer", ref_of_the_question(folder), "29 Sept 2026", "--because", "rang back")
    told = say("history", ref_of_the_question(folder))[1]
    assert "coordinator: answer" in told and "because rang back" in " ".join(told.split())


def test_a_delivery_is_noted(say: Say) -> None:
    assert "Not yet noted as delivered: 2026-0001" in say("status")[1]
    assert say("delivered", "2026-0001", "--on", "2026-10-22")[0] == 0
    assert "Not yet noted" not in say("status")[1]


def test_only_what_was_not_undone_is_undone(say: Say) -> None:
    assert say("undo")[0] == 0
    code, told = say("undo")
    assert code == 4 and "undone already" in told


def test_before_the_first_run_there_is_nothing_to_change(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    made = make_folder(tmp_path / "new")
    assert main(["sent", "--all", "--folder", str(made)]) == 4
    assert "There was no run yet" in capsys.readouterr().err
