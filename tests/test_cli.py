"""The commands as they are typed: what they print, what they return, what they leave alone."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from pipeline.catalogue import catalogue
from pipeline.cli import main
from pipeline.commands.run import has_news
from tests.season_folder import TODAY, clean_rows, make_folder, read_table, rows, write_sheet

DAY = TODAY.isoformat()


def said(capsys: pytest.CaptureFixture[str]) -> str:
    return capsys.readouterr().out


def test_check_says_what_waits_and_keeps_nothing(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    write_sheet(Path("mine.csv"), [*clean_rows(1, 5), ["AB0009", "2026-09-31", "male", "Amherst", "Nova Scotia", "51"]])
    code = main(["check", "mine.csv", "--today", DAY])
    text = said(capsys)
    assert code == 1 and "6 rows, 5 ready, 1 would wait for an answer" in text and "2026-09-31" in text
    assert [path.name for path in tmp_path.iterdir()] == ["mine.csv"]


def test_check_of_a_clean_sheet_has_nothing_to_ask(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    write_sheet(Path("mine.csv"), clean_rows(1, 5))
    assert main(["check", "mine.csv", "--today", DAY]) == 0
    assert "5 rows, 5 ready, 0 would wait" in said(capsys)


def test_check_names_a_file_that_is_not_there(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", "no such sheet.xlsx", "--today", DAY]) == 1
    assert "there is no such file" in said(capsys)


def test_status_before_and_after_the_first_run(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder = make_folder(tmp_path)
    write_sheet(folder / "inbox" / "p1" / "mine.csv", clean_rows(1, 5))
    assert main(["status", str(folder)]) == 1
    before = said(capsys)
    assert (
        "1 file is new in the inbox: tagsheaf run" in before and not (folder / "programme" / "ledger.sqlite").exists()
    )
    main(["run", str(folder), "--today", DAY])
    capsys.readouterr()
    assert main(["status", str(folder)]) == 0
    after = said(capsys)
    assert "No sheet seen yet: p2, p3" in after and "5 rows clear, 0 held" in after


def test_the_bare_command_is_status(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = make_folder(tmp_path)
    monkeypatch.chdir(folder)
    assert main([]) == 0
    assert "put sheets into inbox/, then tagsheaf run" in said(capsys)


def test_new_makes_a_programme_that_a_run_accepts(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder = tmp_path / "ours"
    assert main(["new", str(folder)]) == 0
    assert "permit" in said(capsys), "the cautions stand at the first step"
    assert main(["run", str(folder), "--today", DAY]) == 0
    assert main(["new", str(folder)]) == 4, "a folder that holds something is left alone"


def test_rules_lists_all_and_explains_one(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["rules"]) == 0
    listed = said(capsys)
    assert all(entry.name in listed for entry in catalogue()) and f"{len(catalogue())} rules" in listed
    assert main(["rules", "day_outside_season"]) == 0
    assert "the programme's settings" in said(capsys)


def test_a_misspelt_rule_is_answered_with_the_nearest(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["rules", "day_out_of_season"]) == 2
    assert "Did you mean day_outside_season?" in capsys.readouterr().err


@pytest.mark.parametrize(
    "arguments",
    [
        pytest.param(["walk"], id="a command that is none"),
        pytest.param(["run", "--today", "yesterday"], id="a day that is none"),
        pytest.param(["check"], id="no file to check"),
    ],
)
def test_wrong_usage_is_exit_code_2(arguments: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as left:
        main(arguments)
    assert left.value.code == 2 and "Traceback" not in capsys.readouterr().err


def test_help_is_one_sentence_and_one_example_for_each_command() -> None:
    for command in ("run", "check", "status", "rules", "new"):
        done = subprocess.run(
            [sys.executable, "-m", "pipeline.cli", command, "--help"], capture_output=True, text=True, check=True
        )
        assert f"For example: tagsheaf {command}" in done.stdout, command


def test_what_a_run_prints_fits_eighty_columns(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder = make_folder(tmp_path)
    write_sheet(folder / "inbox" / "p1" / "mine.csv", [*clean_rows(1, 5), ["AB0009", "", "", "", "", ""]])
    main(["run", str(folder), "--today", DAY])
    lines = said(capsys).splitlines()
    assert max(map(len, lines)) <= 80
    assert lines[-1].endswith("outbox/volunteers.") or "wait" in lines[-2]


def test_the_gate_is_started_early_only_where_file_times_tell_of_news(tmp_path: Path) -> None:
    folder = make_folder(tmp_path)
    sheet = write_sheet(folder / "inbox" / "p1" / "mine.csv", clean_rows(1, 5))
    assert has_news(folder), "there is no ledger yet"
    main(["run", str(folder), "--today", DAY])
    assert not has_news(folder)
    later = (folder / "programme" / "ledger.sqlite").stat().st_mtime + 60
    os.utime(sheet, (later, later))
    assert has_news(folder)


def test_newer_bytes_at_a_known_path_are_a_newer_version(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder = make_folder(tmp_path)
    sheet = write_sheet(folder / "inbox" / "p1" / "mine.csv", clean_rows(1, 5))
    main(["run", str(folder), "--today", DAY])
    first = {line["occurrence_id"] for line in rows(folder)}
    write_sheet(sheet, clean_rows(1, 6))
    main(["run", str(folder), "--today", DAY])
    states = [line["state"] for line in rows(folder)]
    assert states.count("copy") == 5 and states.count("clear") == 6
    assert read_table(folder / "outbox" / "portal" / "2026-0002" / "withdrawn.csv") == []
    assert first < {line["occurrence_id"] for line in rows(folder)}, "the ids stay"
