"""Mails as they come: what was sent with them is read, their words are read as answers, and who wrote them counts."""

from __future__ import annotations

from collections.abc import Callable
from email.message import EmailMessage
from pathlib import Path

import pytest

from pipeline.files.gate_client import Gate
from pipeline.flow import How, Outcome, run
from tests.season_folder import HEADINGS, TODAY, clean_rows, findings, make_folder, read_table, rows, write_sheet

Go = Callable[..., Outcome]


@pytest.fixture
def go(gate: Gate) -> Go:
    return lambda folder, today=TODAY: run(folder, today, lambda: gate)


def sheet(lines: list[list[str]]) -> bytes:
    return "".join(f"{','.join(line)}\n" for line in [HEADINGS, *lines]).encode()


def mail(
    sender: str, text: str, *files: tuple[str, bytes], day: str = "Tue, 6 Oct 2026 10:00:00 -0300"
) -> EmailMessage:
    one = EmailMessage()
    one["From"], one["To"], one["Subject"], one["Date"] = sender, "coordinator@example.org", "My sheet", day
    one["Message-ID"] = "<1@example.org>"
    one.set_content(text)
    for name, data in files:
        one.add_attachment(data, maintype="application", subtype="octet-stream", filename=name)
    return one


def put(folder: Path, name: str, one: EmailMessage) -> Path:
    place = folder / "inbox" / name
    place.parent.mkdir(parents=True, exist_ok=True)
    place.write_bytes(one.as_bytes())
    return place


def sheets_read(folder: Path) -> list[tuple[str, str, str]]:
    table = read_table(folder / "outbox" / "coordinator" / "sheets.csv")
    return [(line["person_id"], line["file"], line["rows_read"]) for line in table]


def rules_found(folder: Path) -> set[str]:
    return {line["rule"] for line in findings(folder) if line["state"] in ("open", "noted")}


def test_a_sheet_that_came_in_a_mail_is_its_writers(tmp_path: Path, go: Go) -> None:
    folder = make_folder(tmp_path)
    data = sheet(clean_rows(1, 6))
    put(folder, "october.eml", mail("Ines <Ines@example.org>", "Here is my sheet.", ("tags.csv", data)))
    assert go(folder).figures.rows["clear"] == 6
    assert sheets_read(folder) == [("p1", "october.eml/tags.csv", "6")]
    assert {line["file"] for line in rows(folder)} == {"october.eml/tags.csv"}
    assert (folder / "programme" / "originals" / rows(folder)[0]["file_sha256"]).read_bytes() == data
    assert rules_found(folder) == {"mail_in_words"}, "somebody should read what else it says"


def test_the_day_of_the_mail_is_the_day_received(tmp_path: Path, go: Go) -> None:
    folder = make_folder(tmp_path)
    late = clean_rows(1, 6)
    late[2][1] = "2026-10-09"
    put(folder, "october.eml", mail("ines@example.org", "", ("tags.csv", sheet(late))))
    go(folder)
    asked = [line for line in findings(folder) if line["rule"] == "day_after_the_sheet_came"]
    assert [line["row"] for line in asked] == ["4"], "released three days after the mail was written"


def test_a_mail_that_lies_in_the_inbox_is_taken_apart_once(tmp_path: Path, go: Go) -> None:
    folder = make_folder(tmp_path)
    put(folder, "october.eml", mail("ines@example.org", "", ("tags.csv", sheet(clean_rows(1, 6)))))
    go(folder)
    again = go(folder)
    assert again.is_unchanged and len(rows(folder)) == 6


def test_the_same_sheet_in_a_mail_and_beside_it_is_a_copy(tmp_path: Path, go: Go) -> None:
    folder = make_folder(tmp_path)
    data = sheet(clean_rows(1, 6))
    put(folder, "a.eml", mail("ines@example.org", "", ("tags.csv", data)))
    go(folder)
    (folder / "inbox" / "p1").mkdir()
    (folder / "inbox" / "p1" / "tags.csv").write_bytes(data)
    figures = go(folder).figures
    assert (figures.rows["clear"], figures.rows["copy"]) == (6, 6)


def test_a_mail_in_a_mail_brings_its_files_too_and_they_are_its_own_writers(tmp_path: Path, go: Go) -> None:
    folder = make_folder(tmp_path)
    inner = mail("remi@example.org", "", ("tags.csv", sheet(clean_rows(31, 4))))
    outer = mail("coordinator@example.org", "forwarded")
    outer.add_attachment(inner)
    put(folder, "forwarded.eml", outer)
    go(folder)
    assert [(person, rows_read) for person, _, rows_read in sheets_read(folder)] == [("p2", "4")]


def test_files_of_one_name_are_told_apart_and_a_picture_beside_them_stays_in_the_mail(tmp_path: Path, go: Go) -> None:
    folder = make_folder(tmp_path)
    files = [
        ("tags.csv", sheet(clean_rows(1, 3))),
        ("Tags.csv", sheet(clean_rows(4, 3))),
        ("wing.JPG", b"\xff\xd8\xff"),
    ]
    put(folder, "a.eml", mail("ines@example.org", "", *files))
    notes = go(folder).notes
    assert [file for _, file, _ in sheets_read(folder)] == ["a.eml/tags.csv", "a.eml/Tags (2).csv"]
    assert any("wing.JPG" in note and "picture" in note for note in notes)
    assert rules_found(folder) == set()


def test_a_picture_of_a_sheet_alone_is_asked_about(tmp_path: Path, go: Go) -> None:
    folder = make_folder(tmp_path)
    put(folder, "p1/a.eml", mail("ines@example.org", "", ("sheet.jpg", b"\xff\xd8\xff\xe0" + bytes(50))))
    go(folder)
    assert "file_not_opened" in rules_found(folder)


def test_answers_in_the_words_of_a_mail_count_beside_a_newer_sheet_in_it(tmp_path: Path, go: Go) -> None:
    folder = make_folder(tmp_path)
    doubtful = ["AB0013", "31/09/2026", "male", "Amherst", "Nova Scotia", "51"]
    write_sheet(folder / "inbox" / "p1" / "mine.csv", [*clean_rows(1, 12), doubtful])
    go(folder)
    more = sheet([*clean_rows(20, 3)])
    put(folder, "reply.eml", mail("ines@example.org", "1 it is 29 September 2026\n\nAnna", ("more.csv", more)))
    figures = go(folder).figures
    assert (figures.rows["clear"], figures.rows["held"], figures.questions) == (16, 0, 0)


def test_a_table_in_the_words_of_a_mail_is_read(tmp_path: Path, go: Go) -> None:
    folder = make_folder(tmp_path)
    text = "\n".join("\t".join(line) for line in [HEADINGS, *clean_rows(1, 6)])
    put(folder, "a.eml", mail("ines@example.org", text))
    assert go(folder).figures.rows["clear"] == 6 and rules_found(folder) == set()


def test_a_stranger_is_asked_about_and_answers_nothing(tmp_path: Path, go: Go) -> None:
    folder = make_folder(tmp_path)
    write_sheet(
        folder / "inbox" / "p1" / "mine.csv", [*clean_rows(1, 12), ["AB0013", "31/09/2026", "male", "", "", ""]]
    )
    before = go(folder).figures.questions
    unknown = [["ZZ0001", *clean_rows(1, 1)[0][1:]]]
    put(folder, "who.eml", mail("stranger@example.net", "", ("tags.csv", sheet(unknown))))
    reply = put(folder, "reply.eml", mail("stranger@example.net", "1 yes", day="Wed, 7 Oct 2026 10:00:00 -0300"))
    after = go(folder)
    assert {"sender_not_known", "answer_without_a_question"} <= rules_found(folder)
    assert after.figures.questions == before, "what a stranger says answers nobody's question"
    reply.rename(folder / "inbox" / "p1" / "reply.eml")
    go(folder)
    told = read_table(folder / "outbox" / "coordinator" / "answers.csv")
    assert {line["person_id"] for line in told if line["outcome"] not in ("settled",)} == {"p1"}
    assert "answer_without_a_question" not in rules_found(folder)


def test_a_folder_and_a_mail_that_name_two_people_are_a_question_to_the_coordinator(tmp_path: Path, go: Go) -> None:
    folder = make_folder(tmp_path)
    put(folder, "p1/a.eml", mail("remi@example.org", "", ("tags.csv", sheet(clean_rows(1, 6)))))
    go(folder)
    asked = [line for line in findings(folder) if line["rule"] == "several_senders_told"]
    assert [(line["person_id"], "p1, p2" in line["message"]) for line in asked] == [("p1", True)]
    assert [person for person, *_ in sheets_read(folder)] == ["p1"], "the folder counts until somebody says otherwise"


def test_nothing_is_kept_of_a_trial(tmp_path: Path, gate: Gate) -> None:
    folder = make_folder(tmp_path)
    put(folder, "a.eml", mail("ines@example.org", "", ("tags.csv", sheet(clean_rows(1, 6)))))
    outcome = run(folder, TODAY, lambda: gate, How(is_trial=True))
    assert outcome.figures.rows["clear"] == 6
    assert not (folder / "programme" / "originals").exists()


NAMES = [
    ("../../tags.csv", "a.eml/tags.csv"),
    ("D:\\sheets\\tags.csv", "a.eml/tags.csv"),
    ("ta\u202egs.csv", "a.eml/tags.csv"),
    ("", "a.eml/part-1"),
]


@pytest.mark.parametrize(("name", "file"), NAMES, ids=[repr(name) for name, _ in NAMES])
def test_the_name_of_an_attachment_leads_nowhere(tmp_path: Path, go: Go, name: str, file: str) -> None:
    folder = make_folder(tmp_path)
    put(folder, "a.eml", mail("ines@example.org", "", (name, sheet(clean_rows(1, 3)))))
    go(folder)
    assert [one for _, one, _ in sheets_read(folder)] == [file]
