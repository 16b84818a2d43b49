"""A question sheet that comes back is told from a sheet about butterflies, and read line by line."""

from __future__ import annotations

import csv
import datetime
import io
import shutil
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from invented_people import asked, question, sheet_shown

from pipeline.files.asked import Asked, SheetShown, TagShown
from pipeline.files.gate_client import Gate
from pipeline.files.labels import LANGUAGES, labels
from pipeline.files.question_workbook import QUESTION_COLUMNS, write_question_workbook
from pipeline.files.reading import read_file
from pipeline.files.schemas import answer_words
from pipeline.flow import run
from pipeline.model import AnswerLine, FileRead, Sheet
from pipeline.stages.answers import LOST_REF, answer_lines, holds_answers
from pipeline.values.ref import ref_of
from pipeline.values.text import tidy
from tests.season_folder import TODAY, clean_rows, make_folder, rows, write_sheet

REF = ref_of("an invented question")
WORDS = answer_words()
REFS = tuple(ref_of(f"question {number}") for number in (1, 2, 3))
ROW_REFS = tuple(ref_of(f"row {number}") for number in (10, 11, 12))
TAG_REFS = tuple(ref_of(f"tag {number}") for number in (1, 2))
AT = {key: column for column, key in enumerate(QUESTION_COLUMNS, 1)}
OWN = ("Tag", "Date", "Sexe", "Note", "Long", "Où")


def rows_shown(sheet: SheetShown, refs: tuple[str, ...] = ROW_REFS) -> SheetShown:
    return replace(sheet, rows=tuple(replace(row, ref=ref) for row, ref in zip(sheet.rows, refs, strict=True)))


def person(language: str = "en", **changed: Any) -> Asked:
    """Three questions, a row with its two neighbours, two tags, all under Refs that hold."""
    plain = {
        "questions": tuple(question(number, ref=ref) for number, ref in enumerate(REFS, 1)),
        "sheets": (rows_shown(sheet_shown()),),
        "tags": tuple(TagShown(ref, tag) for ref, tag in zip(TAG_REFS, ("SM0090", "SM0091"), strict=True)),
    }
    return asked(language=language, **{**plain, **changed})


def read_back(tmp_path: Path, data: bytes) -> FileRead:
    path = tmp_path / "returned"
    path.write_bytes(data)
    return read_file(path, "p014/answers.xlsx", "a" * 64)


def returned(tmp_path: Path, fill: Callable[[Any], object], who: Asked | None = None) -> FileRead:
    """A question sheet as it comes back after somebody filled it in."""
    book = openpyxl.load_workbook(io.BytesIO(write_question_workbook(who or person())))
    fill(book)
    kept = io.BytesIO()
    book.save(kept)
    return read_back(tmp_path, kept.getvalue())


def as_csv(read: FileRead, sheet: int, tmp_path: Path, delimiter: str = ",", encoding: str = "utf-8") -> FileRead:
    """One sheet of a workbook as a spreadsheet program saves it alone."""
    text = io.StringIO()
    csv.writer(text, delimiter=delimiter).writerows(read.sheets[sheet].texts)
    return read_back(tmp_path, text.getvalue().encode(encoding))


def answers(read: FileRead, about: str = "question") -> list[AnswerLine]:
    return [line for line in answer_lines(read, WORDS) if line.about == about]


def said(read: FileRead) -> list[tuple[str, str, str, str]]:
    return [(line.choice, line.value, line.kind, line.why) for line in answers(read)]


def write(sheet: Any, row: int, **cells: Any) -> None:
    for key, value in cells.items():
        sheet.cell(row, AT[key]).value = value


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


@pytest.mark.parametrize("language", LANGUAGES)
def test_picks_of_the_list_come_back_in_every_language(tmp_path: Path, language: str) -> None:
    words = labels(language)

    def fill(book: Any) -> None:
        write(book.worksheets[0], 2, answer=words["use_suggestion"])
        write(book.worksheets[0], 3, answer=words["right_as_it_is"], why="measured twice")
        write(book.worksheets[0], 4, answer=words["other_value"], other="14 septembre 2026")

    read = returned(tmp_path, fill, person(language))
    assert holds_answers(read) and holds_answers(read, WORDS)
    assert said(read) == [
        ("suggestion", "", "-", ""),
        ("right", "", "-", "measured twice"),
        ("other", "14 septembre 2026", "t", ""),
    ]
    first = answers(read)[0]
    assert (first.ref, first.number, first.tag, first.wrote) == (REFS[0], 1, "SM0001", "3/9/26")
    assert first.wonder.startswith("The day in row 11") and first.sheet == words["sheet_questions"]
    assert (first.file, first.file_sha256, first.row) == ("p014/answers.xlsx", "a" * 64, 2)


@pytest.mark.parametrize(
    ("cells", "expected"),
    [
        pytest.param({}, ("", "", "-", ""), id="a line left blank"),
        pytest.param({"answer": 1}, ("suggestion", "", "-", ""), id="a number that is a number"),
        pytest.param({"answer": "4"}, ("unknown", "", "-", ""), id="a number that is a text"),
        pytest.param({"answer": "oui"}, ("suggestion", "", "-", ""), id="another language than the sheet's"),
        pytest.param({"answer": "other: 14 Sept"}, ("other", "14 Sept", "t", ""), id="choice and value in one cell"),
        pytest.param({"answer": "2 (measured twice)"}, ("right", "", "-", "measured twice"), id="choice and reason"),
        pytest.param(
            {"answer": "2 (measured twice)", "why": "by Anna"},
            ("right", "", "-", "by Anna; measured twice"),
            id="a reason in both cells",
        ),
        pytest.param({"answer": "14 Sept 2026"}, ("other", "14 Sept 2026", "t", ""), id="the value for an answer"),
        pytest.param(
            {"answer": datetime.datetime(2026, 9, 14)}, ("other", "2026-09-14", "d", ""), id="a true date for an answer"
        ),
        pytest.param({"answer": 51.5}, ("other", "51.5", "n", ""), id="a number for an answer"),
        pytest.param({"answer": "x" * 121}, ("unread", "", "-", ""), id="a tale for an answer"),
        pytest.param({"answer": "remove"}, ("other", "remove", "t", ""), id="words that take the row out"),
        pytest.param({"other": "14 Sept"}, ("other", "14 Sept", "t", ""), id="the value alone"),
        pytest.param({"other": datetime.datetime(2026, 9, 14)}, ("other", "2026-09-14", "d", ""), id="a true date"),
        pytest.param({"other": "I don't know"}, ("unknown", "", "-", ""), id="unknown in the cell for the value"),
        pytest.param({"other": "-"}, ("", "", "-", ""), id="a dash in the cell for the value"),
        pytest.param({"answer": "hm", "other": "14 Sept"}, ("other", "14 Sept", "t", ""), id="hm and the value"),
        pytest.param({"answer": "no", "other": "14 Sept"}, ("other", "14 Sept", "t", ""), id="no and the value"),
        pytest.param({"answer": "3"}, ("other", "", "-", ""), id="other without a value"),
        pytest.param(
            {"answer": "yes", "other": "3 September 2026"}, ("suggestion", "", "-", ""), id="yes and the suggestion"
        ),
        pytest.param({"answer": "2", "other": "3/9/26"}, ("right", "", "-", ""), id="right and what was written"),
        pytest.param({"answer": "yes", "other": "5 Sept"}, ("unread", "5 Sept", "t", ""), id="yes and another value"),
        pytest.param({"answer": "4", "other": "5 Sept"}, ("unread", "5 Sept", "t", ""), id="unknown and a value"),
        pytest.param({"why": "no photo"}, ("", "", "-", "no photo"), id="a reason alone"),
        pytest.param({"other": "'=SUM(A1)"}, ("other", "=SUM(A1)", "t", ""), id="a guard against formulas"),
        pytest.param({"other": "'-64.37"}, ("other", "-64.37", "t", ""), id="a guard before a number"),
        pytest.param({"other": "'tis"}, ("other", "'tis", "t", ""), id="an apostrophe of the sender's own"),
    ],
)
def test_what_a_line_says(tmp_path: Path, cells: dict[str, Any], expected: tuple[str, str, str, str]) -> None:
    read = returned(tmp_path, lambda book: write(book.worksheets[0], 2, **cells))
    assert said(read)[0] == expected
    assert len(said(read)) == 3


def sorted_backwards(book: Any) -> None:
    sheet = book.worksheets[0]
    lines = [[cell.value for cell in row] for row in sheet.iter_rows(min_row=2)]
    for at, line in enumerate(reversed(lines), 2):
        for column, value in enumerate(line, 1):
            sheet.cell(at, column).value = value


def without_headings(book: Any) -> None:
    book.worksheets[0].delete_rows(1)


def turned_round(book: Any) -> None:
    sheet = book.worksheets[0]
    for row in sheet.iter_rows():
        for cell, value in zip(row, [cell.value for cell in row][::-1], strict=True):
            cell.value = value


def renamed(book: Any) -> None:
    for number, sheet in enumerate(book.worksheets):
        sheet.title = f"Tabelle {number}"
    book.move_sheet(book.worksheets[0], 3)


def lower_case(book: Any) -> None:
    for row in range(2, 5):
        cell = book.worksheets[0].cell(row, 1)
        cell.value = f" {cell.value[:4].lower()} {cell.value[4:].lower()} "


@pytest.mark.parametrize(
    "change",
    [
        pytest.param(lambda book: None, id="as we wrote it"),
        pytest.param(sorted_backwards, id="sorted"),
        pytest.param(without_headings, id="without headings"),
        pytest.param(turned_round, id="columns in another order"),
        pytest.param(renamed, id="sheets renamed and in another order"),
        pytest.param(lower_case, id="Refs in lower case and with blanks"),
        pytest.param(lambda book: book.worksheets[0].insert_rows(3, 2), id="blank lines inserted"),
        pytest.param(lambda book: book.worksheets[0].insert_rows(1, 2), id="a title's room above"),
        pytest.param(lambda book: book.worksheets[0].insert_cols(4, 2), id="columns inserted"),
        pytest.param(lambda book: book.worksheets[0].insert_cols(1), id="a column inserted before the Ref"),
        pytest.param(lambda book: book.worksheets[0].delete_cols(AT["kind"], 2), id="columns taken out at the end"),
        pytest.param(lambda book: book.worksheets[0].delete_cols(AT["row"], 2), id="columns taken out within"),
        pytest.param(lambda book: write(book.worksheets[0], 1, answer="Me:", other=None), id="headings written over"),
        pytest.param(lambda book: book.remove(book.worksheets[1]), id="a sheet taken out"),
    ],
)
@pytest.mark.parametrize("language", LANGUAGES)
def test_answers_are_found_by_their_refs_however_the_sheet_was_changed(
    tmp_path: Path, change: Callable[[Any], object], language: str
) -> None:
    def fill(book: Any) -> None:
        write(book.worksheets[0], 2, answer="yes")
        write(book.worksheets[0], 3, answer="right", why="photo")
        write(book.worksheets[0], 4, answer="other", other="14 Sept")
        change(book)

    read = returned(tmp_path, fill, person(language))
    assert holds_answers(read, WORDS)
    found = {line.ref: (line.choice, line.value, line.why) for line in answers(read)}
    assert found == {
        REFS[0]: ("suggestion", "", ""), REFS[1]: ("right", "", "photo"), REFS[2]: ("other", "14 Sept", ""),
    }  # fmt: skip


@pytest.mark.parametrize(
    ("delimiter", "encoding"),
    [
        pytest.param(",", "utf-8", id="comma"),
        pytest.param(";", "cp1252", id="semicolon, as in French and Spanish, Windows letters"),
        pytest.param("\t", "utf-16", id="tab, wide letters"),
    ],
)
@pytest.mark.parametrize("language", LANGUAGES)
def test_each_sheet_may_come_back_alone_as_csv(tmp_path: Path, delimiter: str, encoding: str, language: str) -> None:
    def fill(book: Any) -> None:
        write(book.worksheets[0], 2, answer="4")
        book.worksheets[1]["F3"] = "M"
        book.worksheets[2]["C2"] = labels(language)["fate_lost"]

    whole = returned(tmp_path, fill, person(language))
    for sheet in range(3):
        alone = as_csv(whole, sheet, tmp_path, delimiter, encoding)
        name = whole.sheets[sheet].name
        assert holds_answers(alone) and holds_answers(alone, WORDS)
        of_both = [
            [replace(line, sheet="", cells=tuple(cell[:2] for cell in line.cells)) for line in answer_lines(one, WORDS)]
            for one in (alone, FileRead(whole.file, whole.file_sha256, (whole.sheets[sheet],)))
        ]
        assert of_both[0] == of_both[1] != [], name


def test_a_deleted_line_is_not_there_and_a_copied_one_is_there_twice(tmp_path: Path) -> None:
    def fill(book: Any) -> None:
        sheet = book.worksheets[0]
        sheet.delete_rows(3)
        sheet.append([cell.value for cell in sheet[2]])
        write(sheet, 2, answer="yes")
        write(sheet, 4, answer="no")

    read = returned(tmp_path, fill)
    assert [(line.ref, line.choice, line.row) for line in answers(read)] == [
        (REFS[0], "suggestion", 2), (REFS[2], "", 3), (REFS[0], "right", 4),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("typed", "ref"),
    [
        pytest.param(REFS[0][:-1] + "!", REFS[0][:-1] + "!", id="a sign typed over"),
        pytest.param("abc", "ABC", id="something else"),
        pytest.param(None, LOST_REF, id="deleted"),
    ],
)
def test_a_line_with_a_damaged_ref_is_given_with_what_it_quotes(tmp_path: Path, typed: str | None, ref: str) -> None:
    read = returned(tmp_path, lambda book: write(book.worksheets[0], 2, ref=typed, answer="yes"))
    line = answers(read)[0]
    assert (line.ref, line.choice, line.tag, line.wrote) == (ref, "suggestion", "SM0001", "3/9/26")
    assert line.wonder.endswith("Which one is it?")


def test_a_line_without_ref_and_answer_says_nothing(tmp_path: Path) -> None:
    read = returned(tmp_path, lambda book: write(book.worksheets[0], 2, ref=None))
    assert [line.ref for line in answers(read)] == list(REFS[1:])


@pytest.mark.parametrize("language", LANGUAGES)
def test_the_rows_come_back_with_their_own_headings_changed_cells_and_new_ones(tmp_path: Path, language: str) -> None:
    def fill(book: Any) -> None:
        sheet = book.worksheets[1]
        sheet["E3"] = datetime.datetime(2026, 9, 14)
        sheet["I3"] = None
        sheet.append([None, None, None, "SM0099", "15/9/26", "M", "'=1+1", -64.2, "Marsh Road"])

    lines = answers(returned(tmp_path, fill, person(language)), "row")
    assert [line.ref for line in lines] == [*ROW_REFS, ""]
    typed = ("SM0042", "3/9/26", "F", "=1+1", "-64.37", "Anna Thériault, près de l'étang")
    as_sent = tuple(zip(OWN, typed, "tttttt", strict=True))
    assert lines[0].cells == lines[2].cells == as_sent
    assert lines[1].cells == (as_sent[0], ("Date", "2026-09-14", "d"), *as_sent[2:5], ("Où", "", "-"))
    assert lines[3].cells == (
        ("Tag", "SM0099", "t"), ("Date", "15/9/26", "t"), ("Sexe", "M", "t"), ("Note", "=1+1", "t"),
        ("Long", "-64.2", "n"), ("Où", "Marsh Road", "t"),
    )  # fmt: skip


def test_blocks_of_several_files_stand_under_their_own_headings(tmp_path: Path) -> None:
    other = rows_shown(sheet_shown(31), tuple(ref_of(f"other row {number}") for number in range(3)))
    other = replace(other, headings=("Code", "Status", "Kind", "Ref", "Why", "Tag"), file="b.xlsx", sheet="B")

    def fill(book: Any) -> None:
        book.worksheets[1]["F8"] = "released"
        book.worksheets[1].append([None, None, None, None, "SM0100"])

    who = person(sheets=(rows_shown(sheet_shown()), other))
    lines = answers(returned(tmp_path, fill, who), "row")
    assert [line.ref for line in lines] == [*ROW_REFS, *(row.ref for row in other.rows), ""]
    assert [heading for heading, _, _ in lines[0].cells] == list(OWN)
    assert [heading for heading, _, _ in lines[3].cells] == ["Code", "Status", "Kind", "Ref", "Why", "Tag"]
    assert lines[4].cells[1] == ("Status", "released", "t")
    assert lines[6].cells[0] == ("Code", "SM0100", "t")


def test_a_row_number_of_ours_is_no_record_by_itself(tmp_path: Path) -> None:
    read = returned(tmp_path, lambda book: book.worksheets[1].append([None, "for comparison", "13"]))
    assert len(answers(read, "row")) == 3


def test_cells_beyond_the_headings_are_given_without_one(tmp_path: Path) -> None:
    def fill(book: Any) -> None:
        book.worksheets[1]["K3"] = "by Anna"

    assert answers(returned(tmp_path, fill), "row")[1].cells[-1] == ("", "by Anna", "t")


@pytest.mark.parametrize(
    ("typed", "choice", "value"),
    [
        pytest.param("lost", "other", "lost", id="a fate"),
        pytest.param("gardée pour l'an prochain", "other", "kept", id="a fate in french"),
        pytest.param("lost, in the marsh", "other", "lost", id="a fate with more words"),
        pytest.param("I don't know", "unknown", "", id="unknown"),
        pytest.param("Rémi Doucet", "unread", "unread", id="a name"),
        pytest.param(None, "", "", id="blank"),
    ],
)
def test_what_became_of_a_tag_comes_back(tmp_path: Path, typed: str | None, choice: str, value: str) -> None:
    def fill(book: Any) -> None:
        book.worksheets[2]["C3"] = typed

    first, line = answers(returned(tmp_path, fill), "tag")
    assert (first.ref, first.tag, first.choice) == (TAG_REFS[0], "SM0090", "")
    assert (line.ref, line.tag, line.choice, line.value) == (TAG_REFS[1], "SM0091", choice, value)
    assert line.typed == (typed or "")


def sheet_of(*texts: tuple[str, ...]) -> FileRead:
    return FileRead("x.csv", "0", (Sheet("x.csv", "0", "", texts, tuple("t" * len(row) for row in texts)),))


@pytest.mark.parametrize(
    "texts",
    [
        pytest.param((("Tag", "Ref"), ("SM0001", REF)), id="a column called Ref among the sender's own"),
        pytest.param((("Ref", "Date", "Sex"), (REF, "3/9/26", "F")), id="a first column called Ref, no more of ours"),
        pytest.param((("Tag", "Date"), (REF, "3/9/26"), (REFS[0], "4/9/26")), id="tags with the same check character"),
        pytest.param(((REF, "3/9/26", "F"),), id="no headings, and nothing of ours"),
    ],
)
def test_a_sheet_about_butterflies_is_not_taken_for_answers(texts: tuple[tuple[str, ...], ...]) -> None:
    assert not holds_answers(sheet_of(*texts), WORDS)


@pytest.mark.parametrize(
    ("texts", "about"),
    [
        pytest.param((*ROW_REFS[:1], "for comparison", "10", "SM0042"), "row", id="a row"),
        pytest.param((*TAG_REFS[:1], "SM0090", "perdida"), "tag", id="a tag"),
    ],
)
def test_sheets_without_headings_are_told_by_their_words(texts: tuple[str, ...], about: str) -> None:
    read = sheet_of(texts)
    assert holds_answers(read, WORDS) and not holds_answers(read)
    assert [line.about for line in answer_lines(read, WORDS)] == [about]


def test_every_label_that_a_column_is_known_by_stands_for_one_column_only() -> None:
    keys = {*QUESTION_COLUMNS, "status", "fate", "neighbour", "must_answer", "please_check"}
    for language in LANGUAGES:
        assert {WORDS.labels[tidy(labels(language)[key])] for key in keys} == keys
