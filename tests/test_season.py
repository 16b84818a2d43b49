"""A season over several runs: sheets come again, answers come back, rows are withdrawn, runs are undone."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from openpyxl import load_workbook

from pipeline.cli import main
from pipeline.files.gate_client import Gate
from pipeline.flow import Outcome, run
from tests.season_folder import TODAY, clean_rows, findings, make_folder, read_table, rows, write_sheet

Go = Callable[..., Outcome]


@pytest.fixture
def go(gate: Gate) -> Go:
    return lambda folder, today=TODAY: run(folder, today, lambda: gate)


def doubtful(tag: str = "AB0013") -> list[str]:
    return [tag, "31/09/2026", "male", "Amherst", "Nova Scotia", "51"]


def answered(folder: Path, person: str, answers: dict[int, tuple[str, str, str]]) -> Path:
    """The person's question sheet with answers by number: (answer, other value, why), put into the inbox."""
    sheet = load_workbook(folder / "outbox" / "volunteers" / person / "questions.xlsx")
    page = sheet.worksheets[0]
    for row in range(2, page.max_row + 1):
        number = int(page.cell(row, 2).value)
        for column, text in zip((8, 9, 10), answers.get(number, ()), strict=False):
            page.cell(row, column).value = text or None
    place = folder / "inbox" / person / "questions.xlsx"
    place.parent.mkdir(parents=True, exist_ok=True)
    sheet.save(place)
    return place


def state_of(folder: Path, row: str, file: str = "p1/mine.csv") -> str:
    return next(line["state"] for line in rows(folder) if line["row"] == row and line["file"] == file)


def outcomes(folder: Path) -> list[str]:
    return [line["outcome"] for line in read_table(folder / "outbox" / "coordinator" / "answers.csv")]


def test_a_right_value_clears_the_row(tmp_path: Path, go: Go) -> None:
    folder = make_folder(tmp_path)
    write_sheet(folder / "inbox" / "p1" / "mine.csv", [*clean_rows(1, 12), doubtful()])
    assert go(folder).figures.rows["held"] == 1
    answered(folder, "p1", {1: ("Other value", "29 September 2026", "")})
    outcome = go(folder)
    assert outcome.figures.rows["held"] == 0 and outcome.figures.questions == 0
    assert outcomes(folder) == ["applied"]
    batch = read_table(folder / "outbox" / "portal" / "2026-0002" / "occurrence.csv")
    assert [line["eventDate"] for line in batch] == ["2026-09-29"]
    assert "answered" in {line["state"] for line in findings(folder)}


def test_right_as_it_is_is_never_asked_again(tmp_path: Path, go: Go) -> None:
    folder = make_folder(tmp_path)
    write_sheet(
        folder / "inbox" / "p1" / "mine.csv",
        [*clean_rows(1, 12), ["AB0013", "2026-09-12", "male", "Amherst", "Nova Scotia", "62"]],
    )
    assert go(folder).figures.questions == 1
    answered(folder, "p1", {1: ("No, it is right as it is", "", "measured twice")})
    outcome = go(folder)
    assert outcome.figures.questions == 0 and outcomes(folder) == ["confirmed"]
    assert {line["state"] for line in findings(folder)} == {"waived"}


def test_a_blank_answer_leaves_the_question_open_under_its_number(tmp_path: Path, go: Go) -> None:
    folder = make_folder(tmp_path)
    write_sheet(folder / "inbox" / "p1" / "mine.csv", [*clean_rows(1, 12), doubtful(), doubtful("AB0014")])
    go(folder)
    answered(folder, "p1", {1: ("Other value", "29/09/2026", ""), 2: ("", "", "")})
    assert go(folder).figures.questions == 1
    letter = load_workbook(folder / "outbox" / "volunteers" / "p1" / "questions.xlsx").worksheets[0]
    assert [letter.cell(2, 2).value, letter.max_row] == ["2", 2]


def test_the_same_answered_file_twice_changes_nothing(tmp_path: Path, go: Go) -> None:
    folder = make_folder(tmp_path)
    write_sheet(folder / "inbox" / "p1" / "mine.csv", [*clean_rows(1, 12), doubtful()])
    go(folder)
    sheet = answered(folder, "p1", {1: ("Other value", "29/09/2026", "")})
    go(folder)
    before = read_table(folder / "outbox" / "coordinator" / "rows.csv")
    shutil.copyfile(sheet, sheet.with_name("questions again.xlsx"))
    outcome = go(folder)
    assert outcome.figures.batch == {} and read_table(folder / "outbox" / "coordinator" / "rows.csv") == before
    # Saved anew by another program it is other bytes with the same answers.
    again = load_workbook(sheet)
    again.properties.title = "saved again"
    again.save(sheet.with_name("questions (1).xlsx"))
    assert go(folder).figures.batch == {} and outcomes(folder)[-1] == "came before"


def test_i_do_not_know_settles_honestly(tmp_path: Path, go: Go) -> None:
    folder = make_folder(tmp_path)
    write_sheet(folder / "inbox" / "p1" / "mine.csv", [*clean_rows(1, 12), doubtful()])
    go(folder)
    answered(folder, "p1", {1: ("I do not know", "", "")})
    outcome = go(folder)
    assert outcome.figures.questions == 0 and outcome.figures.rows["clear"] == 13
    batch = read_table(folder / "outbox" / "portal" / "2026-0002" / "occurrence.csv")
    assert [line["eventDate"] for line in batch] == ["2026-08-01/2026-11-10"], "the season, for nobody knows the day"


def test_a_tag_that_nobody_knows_rests(tmp_path: Path, go: Go) -> None:
    folder = make_folder(tmp_path)
    write_sheet(folder / "inbox" / "p1" / "mine.csv", [*clean_rows(1, 12), ["AB00", *clean_rows(13, 1)[0][1:]]])
    go(folder)
    answered(folder, "p1", {1: ("I do not know", "", "")})
    outcome = go(folder)
    assert outcome.figures.questions == 0 and outcome.figures.rows["held"] == 1


def test_a_reply_in_plain_text_is_read_by_the_numbers(tmp_path: Path, go: Go) -> None:
    folder = make_folder(tmp_path)
    write_sheet(folder / "inbox" / "p1" / "mine.csv", [*clean_rows(1, 12), doubtful(), doubtful("AB0014")])
    go(folder)
    (folder / "inbox" / "p1" / "reply.txt").write_text(
        "Hello!\n1 29 September 2026\n2 I do not know\n", encoding="utf-8"
    )
    outcome = go(folder)
    assert outcome.figures.questions == 0 and outcome.figures.rows["clear"] == 14
    assert outcomes(folder) == ["applied", "applied"]


def test_a_reply_by_mail_is_from_whoever_wrote_it(tmp_path: Path, go: Go) -> None:
    folder = make_folder(tmp_path)
    write_sheet(folder / "inbox" / "p1" / "mine.csv", [*clean_rows(1, 12), doubtful()])
    go(folder)
    mail = (
        "From: Ines Melanson <INES@example.org>\nTo: coordinator@example.org\nSubject: Re: questions\n"
        "Date: Mon, 19 Oct 2026 10:00:00 +0000\nMIME-Version: 1.0\nContent-Type: text/plain; charset=utf-8\n\n"
        "1 29 Sept 2026\n\nOn Sunday the society wrote:\n> 1 yes\n"
    )
    (folder / "inbox" / "reply.eml").write_text(mail, encoding="utf-8")
    outcome = go(folder)
    assert outcome.figures.questions == 0 and outcomes(folder) == ["applied"]
    line = read_table(folder / "outbox" / "coordinator" / "answers.csv")[0]
    assert line["person_id"] == "p1"


def test_a_bare_yes_answers_the_only_question_and_none_of_two(tmp_path: Path, go: Go) -> None:
    folder = make_folder(tmp_path)
    row = ["AB0013", "2026-09-12", "male", "Amherst", "Nova Scotia", "62"]
    write_sheet(folder / "inbox" / "p1" / "mine.csv", [*clean_rows(1, 12), row])
    write_sheet(folder / "inbox" / "p2" / "mine.csv", [*clean_rows(31, 6), ["AB0037", *row[1:]], ["AB0038", *row[1:]]])
    go(folder)
    for person in ("p1", "p2"):
        (folder / "inbox" / person / "reply.txt").write_text("Hello Maud,\nright as it is\nAnna\n", newline="\n")
    go(folder)
    told = read_table(folder / "outbox" / "coordinator" / "answers.csv")
    assert [(line["person_id"], line["outcome"]) for line in told] == [("p1", "confirmed"), ("p2", "no such question")]
    asked = [line for line in findings(folder) if line["rule"] == "answer_without_a_question"]
    assert len(asked) == 1 and "none given" in asked[0]["message"]


def test_what_is_written_beside_a_tag_and_not_read_is_told_until_something_is_heard_of_it(
    tmp_path: Path, go: Go
) -> None:
    folder = make_folder(tmp_path)
    write_sheet(folder / "inbox" / "p1" / "mine.csv", [*clean_rows(1, 12), doubtful()])
    go(folder)
    sheet = load_workbook(folder / "outbox" / "volunteers" / "p1" / "questions.xlsx")
    tag = sheet["Your tags"]["B2"].value
    sheet["Your tags"]["C2"].value = "gave it to my aunt"
    sheet.save(folder / "inbox" / "p1" / "questions.xlsx")
    go(folder)
    told = [line for line in findings(folder) if line["rule"] == "fate_of_tag_not_read"]
    assert [(line["person_id"], tag in line["message"]) for line in told] == [("p1", True)]
    (folder / "inbox" / "p1" / "reply.txt").write_text(f"{tag} lost\n", newline="\n")
    go(folder)
    assert {line["state"] for line in findings(folder) if line["rule"] == "fate_of_tag_not_read"} <= {"withdrawn"}


def test_none_says_that_no_tags_were_used(tmp_path: Path, go: Go) -> None:
    folder = make_folder(tmp_path)
    write_sheet(folder / "inbox" / "p1" / "mine.csv", clean_rows(1, 12))
    before = go(folder).figures.tags
    (folder / "inbox" / "p2").mkdir()
    (folder / "inbox" / "p2" / "answer.txt").write_text("NONE\n", encoding="utf-8")
    after = go(folder).figures.tags
    assert (before["kept"], after["kept"]) == (0, 30) and sum(before.values()) == sum(after.values())


def test_an_answer_for_somebody_else_is_refused_and_reported(tmp_path: Path, go: Go) -> None:
    folder = make_folder(tmp_path)
    write_sheet(folder / "inbox" / "p1" / "mine.csv", [*clean_rows(1, 12), doubtful()])
    go(folder)
    sheet = answered(folder, "p1", {1: ("Other value", "29/09/2026", "")})
    (folder / "inbox" / "p2").mkdir()
    sheet.rename(folder / "inbox" / "p2" / "questions.xlsx")
    outcome = go(folder)
    assert outcomes(folder) == ["somebody else's"] and outcome.figures.rows["held"] == 1
    assert outcome.figures.coordinator_questions == 1


def test_the_coordinators_own_book_counts_as_given_by_telephone(tmp_path: Path, go: Go) -> None:
    folder = make_folder(tmp_path)
    write_sheet(folder / "inbox" / "p1" / "mine.csv", [*clean_rows(1, 12), doubtful()])
    write_sheet(folder / "inbox" / "p2" / "fiche.csv", [*clean_rows(31, 12), doubtful("AB0043")])
    go(folder)
    book = load_workbook(folder / "outbox" / "coordinator" / "questions.xlsx")
    page = book.worksheets[0]
    for row in range(2, page.max_row + 1):
        page.cell(row, 8).value, page.cell(row, 9).value = "3", "29/09/2026"
    book.save(folder / "inbox" / "told by telephone.xlsx")
    outcome = go(folder)
    assert outcome.figures.rows["held"] == 0 and outcomes(folder) == ["applied", "applied"]
    assert {line["person_id"] for line in read_table(folder / "outbox" / "coordinator" / "answers.csv")} == {
        "coordinator"
    }


def test_a_newer_sheet_and_an_older_answer_are_a_question_to_the_coordinator(tmp_path: Path, go: Go) -> None:
    folder = make_folder(tmp_path)
    write_sheet(folder / "inbox" / "p1" / "mine.csv", [*clean_rows(1, 12), doubtful()])
    go(folder)
    sheet = answered(folder, "p1", {1: ("Other value", "29/09/2026", "")})
    kept = sheet.read_bytes()
    sheet.unlink()
    write_sheet(
        folder / "inbox" / "p1" / "mine v2.csv", [*clean_rows(1, 12), ["AB0013", "2026-09-28", *doubtful()[2:]]]
    )
    assert go(folder).figures.rows == {
        "clear": 13, "held": 0, "replaced": 1, "withdrawn": 0, "copy": 12, "left-out": 0,
    }  # fmt: skip
    sheet.write_bytes(kept)
    outcome = go(folder)
    assert outcomes(folder) == ["conflict"] and outcome.figures.coordinator_questions == 1
    asked = next(line for line in findings(folder) if line["rule"] == "answer_after_a_newer_value")
    assert (asked["seen"], asked["suggestion"], asked["row"]) == ("2026-09-28", "2026-09-29", "14")
    ref = load_workbook(folder / "outbox" / "coordinator" / "questions.xlsx").worksheets[0].cell(2, 1).value
    assert main(["answer", ref, "suggestion", "--because", "she said so", "--folder", str(folder)]) == 0
    assert go(folder).figures.coordinator_questions == 0
    assert [line["eventDate"] for line in read_table(folder / "outbox" / "portal" / "2026-0004" / "occurrence.csv")][
        -1
    ] == "2026-09-29"


VERSIONS = {
    # what the newer file holds, which states all rows then have
    "the same rows in another order": (lambda r: r[::-1], {"clear": 12, "copy": 12}),
    "two rows more": (lambda r: [*r, *clean_rows(13, 2)], {"clear": 14, "copy": 12}),
    "a row put in at the top": (lambda r: [clean_rows(13, 1)[0], *r], {"clear": 13, "copy": 12}),
    "one day corrected": (
        lambda r: [[r[0][0], "2026-09-30", *r[0][2:]], *r[1:]], {"clear": 12, "copy": 11, "replaced": 1}),
    "a code corrected": (lambda r: [["AB0021", *r[0][1:]], *r[1:]], {"clear": 12, "copy": 11, "replaced": 1}),
}  # fmt: skip


@pytest.mark.parametrize(("change", "expected"), VERSIONS.values(), ids=VERSIONS)
def test_a_sheet_that_comes_again_is_compared_row_by_row(
    change: Callable[[list[list[str]]], list[list[str]]], expected: dict[str, int], tmp_path: Path, go: Go
) -> None:
    folder = make_folder(tmp_path)
    write_sheet(folder / "inbox" / "p1" / "mine.csv", clean_rows(1, 12))
    go(folder)
    ids = {line["occurrence_id"] for line in rows(folder)}
    write_sheet(folder / "inbox" / "p1" / "mine final v2.csv", change(clean_rows(1, 12)))
    outcome = go(folder)
    assert {state: count for state, count in outcome.figures.rows.items() if count} == expected
    assert ids <= {line["occurrence_id"] for line in rows(folder)}, "ids never change"
    assert outcome.figures.questions == 0


def test_a_row_left_out_of_the_newer_sheet_is_asked_about_once(tmp_path: Path, go: Go) -> None:
    folder = make_folder(tmp_path)
    write_sheet(folder / "inbox" / "p1" / "mine.csv", clean_rows(1, 12))
    go(folder)
    write_sheet(folder / "inbox" / "p1" / "mine v2.csv", clean_rows(2, 11)[:0] + clean_rows(1, 12)[1:])
    outcome = go(folder)
    assert outcome.figures.questions == 1 and outcome.figures.rows["clear"] == 12
    answered(folder, "p1", {1: ("Yes, use your suggestion", "", "")})
    outcome = go(folder)
    assert outcome.figures.questions == 0 and outcome.figures.rows["withdrawn"] == 1
    gone = read_table(folder / "outbox" / "portal" / "2026-0002" / "withdrawn.csv")
    assert [line["reason"] for line in gone] == ["withdrawn by its recorder"]


def test_newer_bytes_at_the_same_path_pass_the_ids_on(tmp_path: Path, go: Go) -> None:
    folder = make_folder(tmp_path)
    sheet = write_sheet(folder / "inbox" / "p1" / "mine.csv", clean_rows(1, 12))
    go(folder)
    ids = {line["occurrence_id"] for line in rows(folder)}
    write_sheet(sheet, [["AB0001", "2026-09-30", *clean_rows(1, 1)[0][2:]], *clean_rows(2, 0), *clean_rows(1, 12)[1:]])
    outcome = go(folder)
    assert outcome.figures.batch["records"] == "1" and outcome.figures.batch["withdrawn"] == "0"
    assert {line["occurrence_id"] for line in rows(folder)} - {""} == ids


def test_a_withdrawn_row_leaves_with_the_next_batch_and_undo_brings_it_back(tmp_path: Path, go: Go) -> None:
    folder = make_folder(tmp_path)
    write_sheet(folder / "inbox" / "p1" / "mine.csv", clean_rows(1, 12))
    go(folder)
    record = rows(folder)[0]["occurrence_id"]
    told = ["withdraw", record, "--because", "the sheet was a trial", "--folder", str(folder)]
    assert main(told) == 0
    outcome = go(folder)
    assert outcome.figures.rows["withdrawn"] == 1 and outcome.figures.batch["withdrawn"] == "1"
    assert main(["undo", "--folder", str(folder)]) == 0
    assert go(folder).figures.rows["withdrawn"] == 0


def test_undo_takes_the_last_files_back_and_the_next_batch_restores_what_was(tmp_path: Path, go: Go) -> None:
    folder = make_folder(tmp_path)
    write_sheet(folder / "inbox" / "p1" / "mine.csv", clean_rows(1, 12))
    go(folder)
    newer = write_sheet(
        folder / "inbox" / "p1" / "mine v2.csv",
        [["AB0001", "2026-09-30", *clean_rows(1, 1)[0][2:]], *clean_rows(1, 12)[1:], *clean_rows(13, 1)],
    )
    assert go(folder).figures.batch["records"] == "2"
    assert main(["undo", "--folder", str(folder)]) == 0
    newer.unlink()
    outcome = go(folder)
    assert outcome.figures.rows["clear"] == 12
    restored = read_table(folder / "outbox" / "portal" / "2026-0003" / "occurrence.csv")
    assert [line["eventDate"] for line in restored] == [clean_rows(1, 1)[0][1]]
    assert len(read_table(folder / "outbox" / "portal" / "2026-0003" / "withdrawn.csv")) == 1
    assert main(["undo", "--folder", str(folder)]) == 4, "only what was not undone already"


def test_batches_are_written_when_asked(tmp_path: Path, go: Go, gate: Gate) -> None:
    from pipeline.flow import How
    from tests.season_folder import SETTINGS

    folder = make_folder(tmp_path, settings=SETTINGS + '\n[portal]\nbatch = "when-asked"\n')
    write_sheet(folder / "inbox" / "p1" / "mine.csv", clean_rows(1, 12))
    outcome = go(folder)
    assert outcome.figures.batch == {} and outcome.figures.rows["held"] == 12
    assert "12 rows are ready" in (folder / "outbox" / "volunteers" / "p1" / "letter.txt").read_text(encoding="utf-8")
    delivery = run(folder, TODAY, lambda: gate, How(delivers=True))
    assert delivery.figures.batch["records"] == "12" and delivery.figures.rows["clear"] == 12
    assert run(folder, TODAY, lambda: gate, How(delivers=True)).figures.batch == {}


def test_records_of_a_past_season_are_known_and_not_published(tmp_path: Path, go: Go) -> None:
    folder = make_folder(tmp_path)
    write_sheet(folder / "inbox" / "p1" / "mine.csv", clean_rows(1, 12))
    go(folder)
    past = tmp_path / "occurrence-2025.csv"
    past.write_text(
        "occurrenceID,organismName,eventType,eventDate,decimalLatitude,decimalLongitude\n"
        "urn:uuid:1,AB0012,Release,2025-09-03,45.9,-64.4\nurn:uuid:2,ZZ0001,Release,2025-09-04,45.9,-64.4\n",
        encoding="utf-8",
    )
    assert main(["past", str(past), "--season", "2025", "--folder", str(folder)]) == 0
    write_sheet(
        folder / "inbox" / "finds" / "found.csv",
        [["ZZ0001", "2026-03-01", "Angangueo", "Michoacán", "19.62", "-100.28"]],
        ["Tag found", "Date found", "Town", "State", "Latitude", "Longitude"],
    )
    outcome = go(folder)
    again = [line["rule"] for line in findings(folder) if line["state"] == "open"]
    assert "released_in_an_earlier_season" in again
    found = read_table(folder / "outbox" / "coordinator" / "finds.csv")
    assert [line["release_occurrence_id"] for line in found] == ["urn:uuid:2"]
    assert sum(outcome.figures.rows.values()) == 13, "what was published before is no row of this ledger"


def test_the_same_words_from_two_people_are_two_answers(tmp_path: Path, go: Go) -> None:
    folder = make_folder(tmp_path)
    write_sheet(folder / "inbox" / "p1" / "mine.csv", [*clean_rows(1, 12), doubtful()])
    write_sheet(folder / "inbox" / "p2" / "fiche.csv", [*clean_rows(31, 12), doubtful("AB0043")])
    go(folder)
    for person in ("p1", "p2"):
        (folder / "inbox" / person / "reply.txt").write_text("1 29 Sept 2026\n", encoding="utf-8")
    assert go(folder).figures.rows["held"] == 0
