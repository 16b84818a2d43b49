"""questions.xlsx, read back with openpyxl as a stranger's program would read it."""

import csv
import io
import re
import string
import zipfile
from dataclasses import replace
from importlib.resources import files

import openpyxl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from invented_people import asked, contrast, question, rows_around, sheet_shown

from pipeline.files.asked import TagShown
from pipeline.files.labels import LANGUAGES, labels, spell_day, spell_number
from pipeline.files.question_workbook import write_question_workbook

# The order that is relied on outside; the words are those of the English sheet.
COLUMNS = (
    "Ref", "No.", "Your row", "Tag", "What you wrote", "What we wonder", "Our suggestion", "Your answer",
    "If other: right value", "Why", "Kind", "Your file",
)  # fmt: skip


def opened(person):
    return openpyxl.load_workbook(io.BytesIO(write_question_workbook(person)))


def values(sheet, row):
    return [cell.value for cell in sheet[row]]


def members(person):
    return zipfile.ZipFile(io.BytesIO(write_question_workbook(person)))


def test_the_four_sheets_stand_in_their_order_and_the_columns_of_questions_in_theirs():
    book = opened(asked())
    assert book.sheetnames == ["Your questions", "Your rows", "Your tags", "Help"]
    assert tuple(values(book["Your questions"], 1)) == COLUMNS
    assert values(book["Your tags"], 1) == ["Ref", "Tag", "What became of it"]


@pytest.mark.parametrize("language", LANGUAGES)
def test_ref_is_called_ref_in_every_language(language):
    book = opened(asked(language=language))
    assert [sheet["A1"].value for sheet in book.worksheets[:3]] == ["Ref", "Ref", "Ref"]


@pytest.mark.parametrize(
    ("language", "third", "pick"),
    [("fr", "Votre ligne", "Oui, prenez votre proposition"), ("es", "Su fila", "Sí, usen su propuesta")],
)
def test_a_sheet_speaks_the_language_of_its_reader(language, third, pick):
    book = opened(asked(language=language))
    assert (book.worksheets[0]["C1"].value, book.worksheets[3]["A2"].value) == (third, pick)


def test_a_language_that_we_have_no_words_in_is_answered_in_english():
    assert opened(asked(language="pt")).sheetnames[0] == "Your questions"


def test_what_blocks_is_asked_first_and_keeps_its_number():
    questions = (question(4, kind="please-check"), question(9), question(7))
    sheet = opened(asked(questions=questions))["Your questions"]
    assert [row[1].value for row in sheet.iter_rows(min_row=2)] == ["7", "9", "4"]
    assert [row[10].value for row in sheet.iter_rows(min_row=2)] == [
        "We need your answer", "We need your answer", "Please check"
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("rows", "row", "sheet", "shown"),
    [
        pytest.param((12,), 12, "A", "12", id="one row"),
        pytest.param((12, 13, 14, 20), 12, "A", "4 rows: 12-14, 20", id="a block"),
        pytest.param((), 0, "A", "The whole sheet", id="a sheet"),
        pytest.param((), 0, "", "The whole file", id="a file"),
    ],
)
def test_your_row_says_what_a_question_is_about(rows, row, sheet, shown):
    one = question(1, rows=rows, n_rows=len(rows), row=row, sheet=sheet)
    assert opened(asked(questions=(one,)))["Your questions"]["C2"].value == shown


@pytest.mark.parametrize("typed", ["=1+1", "+1", "-64.37", "@A1", "00123", "1E5", "http://example.org", "é½ñ"])
def test_what_a_person_typed_stays_a_text(typed):
    shown = replace(sheet_shown(), rows=tuple(replace(row, cells=(typed,)) for row in rows_around(11)))
    book = opened(asked(questions=(question(1, seen=typed),), sheets=(shown,), tags=(TagShown("T1", typed),)))
    for cell in (book["Your questions"]["E2"], book["Your rows"]["D2"], book["Your tags"]["B2"]):
        assert (cell.value, cell.data_type, cell.number_format) == (typed, "s", "@")
        assert cell.quotePrefix and cell.hyperlink is None


def test_there_is_no_formula_link_macro_hidden_or_merged_thing():
    with members(asked()) as package:
        names = "\n".join(package.namelist())
        sheets = "".join(package.read(n).decode() for n in package.namelist() if n.endswith(".xml"))
    assert not re.search("vba|external|comments|drawing|connections", names, re.IGNORECASE)
    assert not re.search('<f[ >]|mergeCell|<hyperlink|hidden="1"|state="(hidden|veryHidden)"', sheets)


def test_the_pick_list_of_answers_is_the_four_answers_of_help():
    book = opened(asked())
    help_sheet = book["Help"]
    picks = [help_sheet[f"A{row}"].value for row in range(2, 6)]
    assert picks == ["Yes, use your suggestion", "No, it is right as it is", "Other value", "I do not know"]
    lists = {str(v.sqref): v.formula1 for v in book["Your questions"].data_validations.dataValidation}
    assert lists == {"H2:H3": "'Help'!$A$2:$A$5", "H4": "'Help'!$A$3:$A$5"}  # no suggestion, none to use


def test_right_as_it_is_is_not_offered_where_it_cannot_be():
    person = asked()
    person = replace(person, questions=tuple(replace(one, is_waivable=False) for one in person.questions))
    book = opened(person)
    last = book["Help"].max_row
    assert [book["Help"][f"A{row}"].value for row in range(last - 2, last + 1)] == [
        "Yes, use your suggestion", "Other value", "I do not know"]  # fmt: skip
    lists = {str(v.sqref): v.formula1 for v in book["Your questions"].data_validations.dataValidation}
    assert lists == {"H2:H3": f"'Help'!$A${last - 2}:$A${last}", "H4": "'Help'!$A$4:$A$5"}


def test_an_answer_that_is_not_on_the_list_is_not_refused():
    validations = opened(asked())["Your questions"].data_validations.dataValidation
    assert validations and not any(validation.showErrorMessage for validation in validations)


def test_what_became_of_a_tag_is_picked_from_five():
    (picks,) = opened(asked())["Your tags"].data_validations.dataValidation
    assert str(picks.sqref) == "C2:C3"
    assert picks.formula1 == '"released,lost,spoiled,not used,kept for next year"'


@pytest.mark.parametrize("language", LANGUAGES)
def test_inline_pick_lists_keep_within_what_a_spreadsheet_takes(language):
    words = labels(language)
    fates = [words[key] for key in words if key.startswith("fate_")]
    assert len(",".join(fates)) <= 255 and not any("," in fate for fate in fates)  # ECMA-376, 18.3.1.32


def test_every_sheet_prints_with_its_heading_row_on_pages_one_wide():
    for sheet in opened(asked()).worksheets:
        assert (sheet.freeze_panes, sheet.print_title_rows) == ("A2", "$1:$1")
        assert (sheet.page_setup.orientation, int(sheet.page_setup.paperSize)) == ("landscape", 9)
        assert sheet.sheet_properties.pageSetUpPr.fitToPage
        # One page wide is what a workbook means when it says nothing (ECMA-376, 18.3.1.63).
        assert (sheet.page_setup.fitToWidth or 1, sheet.page_setup.fitToHeight) == (1, 0)


def test_the_rows_around_stand_there_in_grey_with_the_senders_headings_and_numbers():
    sheet = opened(asked())["Your rows"]
    assert values(sheet, 1)[3:] == ["Tag", "Date", "Sexe", "Note", "Long", "Où"]
    assert [[cell.value for cell in row[:3]] for row in sheet.iter_rows(min_row=2)] == [
        ["R0010X", "neighbour", "10"], ["R0011X", "asked", "11"], ["R0012X", "neighbour", "12"]
    ]  # fmt: skip
    fills = [sheet[f"D{row}"].fill.fgColor.rgb for row in (2, 3, 4)]
    assert fills[0] == fills[2] == "FFF2F2F2" != fills[1]


def test_no_grey_row_is_without_a_word():
    rows = tuple(replace(row, status="") for row in rows_around(11))
    sheet = opened(asked(sheets=(replace(sheet_shown(), rows=rows),)))["Your rows"]
    assert [sheet["B2"].value, sheet["B3"].value] == ["for comparison", "We need your answer"]


def test_a_second_sheet_stands_under_its_own_headings():
    second = replace(sheet_shown(31), headings=("Code", "Day"), sheet="B")
    sheet = opened(asked(sheets=(sheet_shown(), second)))["Your rows"]
    assert sheet.print_title_rows is None, "on a second page the first headings would stand above the second sheet"
    assert [cell.value for cell in sheet[5]] == [None] * 10
    assert values(sheet, 6)[:6] == ["Ref", "Status", "Your row", "Your file", "Code", "Day"]
    assert [sheet["C8"].value, sheet["D8"].value] == ["31", "été 2026 final (2).xlsx\nFeuille 1"]


def test_every_colour_can_be_read():
    for sheet in opened(asked()).worksheets:
        for cell in (cell for row in sheet.iter_rows() for cell in row if cell.value):
            fill = f"#{cell.fill.fgColor.rgb[2:]}" if cell.fill.fill_type == "solid" else "#FFFFFF"
            assert contrast(f"#{cell.font.color.rgb[2:]}", fill) >= 4.5, cell.coordinate  # WCAG 2.x, 1.4.3


@pytest.mark.parametrize(("ink", "ratio"), [("#000000", 21.0), ("#767676", 4.54), ("#FFFFFF", 1.0)])
def test_contrast_is_computed_as_wcag_does(ink, ratio):
    assert contrast(ink, "#FFFFFF") == pytest.approx(ratio, abs=0.01)  # WCAG 2.x, Understanding 1.4.3


@pytest.mark.parametrize(("length", "least"), [(20, 18), (200, 78), (400, 153)])
def test_a_row_is_as_high_as_its_text(length, least):
    wonder = " ".join(["word"] * (length // 5))
    sheet = opened(asked(questions=(question(1, wonder=wonder),)))["Your questions"]
    assert sheet.row_dimensions[2].height >= least  # 15 points a line of 40 characters


def test_the_same_questions_give_the_same_bytes():
    assert write_question_workbook(asked(9)) == write_question_workbook(asked(9))
    with members(asked()) as package:
        assert {info.date_time for info in package.infolist()} == {(1980, 1, 1, 0, 0, 0)}
        assert b"1980-01-01T00:00:00Z" in package.read("docProps/core.xml")


@settings(max_examples=30, deadline=None)
@given(st.text(max_size=60))
def test_any_text_can_be_asked_about(typed):
    sheet = opened(asked(questions=(question(1, seen=typed, wonder=typed, tag=typed),)))["Your questions"]
    kept = re.sub("[\x00-\x08\x0b-\x1f\x7f\u202a-\u202e\u2066-\u2069\ud800-\udfff\ufffe\uffff]", "", typed)
    assert (sheet["E2"].value or "") == kept


def test_a_text_longer_than_a_cell_is_cut_and_not_lost():
    sheet = opened(asked(questions=(question(1, seen="x" * 40_000),)))["Your questions"]
    assert len(sheet["E2"].value) == 32_000


def test_every_label_is_there_in_three_languages_with_the_same_placeholders():
    text = files("schemas").joinpath("messages/labels.csv").read_text(encoding="utf-8")
    lines = list(csv.DictReader(io.StringIO(text)))
    assert len({line["key"] for line in lines}) == len(lines) > 100
    for line in lines:
        texts = [line[language] for language in LANGUAGES]
        names = [{name for _, name, *_ in string.Formatter().parse(text) if name} for text in texts]
        assert all(texts) and names[0] == names[1] == names[2], line["key"]


@pytest.mark.parametrize(
    ("iso", "language", "spelled"),
    [
        ("2026-09-14", "en", "14 September 2026"),
        ("2026-09-14", "fr", "14 septembre 2026"),
        ("2026-08-01", "fr", "1er août 2026"),
        ("2026-12-01", "es", "1 de diciembre de 2026"),
        ("2026-02", "fr", "février 2026"),
        ("2026-09-14/2026-09-16", "en", "14 September 2026 – 16 September 2026"),
        ("last week", "en", "last week"),
        ("2026-13-40", "en", "2026-13-40"),
        ("", "es", ""),
    ],
)
def test_days_are_spelled_as_people_say_them(iso, language, spelled):
    assert spell_day(iso, language) == spelled


def test_numbers_are_set_apart_as_the_language_does():
    spelled = [spell_number(12345, language) for language in LANGUAGES]
    assert spelled == ["12,345", "12\u202f345", "12\u202f345"]
