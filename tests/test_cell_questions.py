"""Cells as people type them, through a whole run: what is asked about each, and what is suggested, exactly."""

from __future__ import annotations

import datetime
from collections import defaultdict
from typing import Any

import pytest
from openpyxl import Workbook

from pipeline.files.gate_client import Gate
from pipeline.flow import run
from tests.season_folder import SETTINGS, TODAY, findings, make_folder

HEADINGS = (
    "Tag",
    "Date",
    "Sex",
    "Stage",
    "Town",
    "Province",
    "Forewing mm",
    "Weight g",
    "Count",
    "Time",
    "Species",
    "Release or find",
)
TAGS = """\
season,first_code,last_code,person_id,allotted_on,status
2026,AB0001,AB0199,p1,2026-07-20,
2026,CD0777,CD0777,p1,2026-07-20,
2026,DEC12,DEC12,p1,2026-07-20,
2026,1E0003,1E0003,p1,2026-07-20,
2026,00456,00456,p1,2026-07-20,
2026,AB0200,AB0260,p2,2026-07-20,
"""
PATTERN = '\n[tags]\npattern = "[A-Z]{2}[0-9]{4}|[A-Z]{3}[0-9]{2}|[0-9]E[0-9]{4}|[0-9]{5}"\n'

# what is typed, and the questions about it: the rule and its suggestion
Asked = dict[str, str]
CASES: dict[str, tuple[dict[str, Any], Asked]] = {
    "nothing odd": ({}, {}),
    "a number for a day": ({"Date": 46268}, {"day_as_a_number": "2026-09-03"}),
    "a number for a day, as text": ({"Date": "46268"}, {"day_as_a_number": "2026-09-03"}),
    "a number for a day, counted from 1904": ({"Date": "44806"}, {"day_as_a_number": "2026-09-03"}),
    "a number for a day out of season": ({"Date": "44724"}, {"day_as_a_number": ""}),
    "a day without a year": ({"Date": "14sept"}, {"day_without_year": "2026-09-14"}),
    "a Roman month": ({"Date": "14-IX-26"}, {}),
    "a day with its hour": ({"Date": "15 Sept 2026 at 2 pm"}, {}),
    "a span": ({"Date": "28 août au 2 sept 2026"}, {}),
    "a day in doubt": ({"Date": "3 Sept 2026?"}, {"day_marked_unsure": "2026-09-03"}),
    "the start of a month": ({"Date": "early Sept 2026"}, {"day_marked_unsure": "2026-09"}),
    "words for a day": ({"Date": "after the storm"}, {"day_not_read": ""}),
    "a code that became a day": ({"Tag": datetime.date(2026, 12, 12)}, {"tag_code_became_a_date": "DEC12"}),
    "a code that became a day, as text": ({"Tag": "12-Dec"}, {"tag_code_became_a_date": "DEC12"}),
    "a code that became another day": ({"Tag": datetime.date(2026, 12, 13)}, {"tag_code_became_a_date": ""}),
    "a code that became a power of ten": ({"Tag": "1.00E+03"}, {"tag_code_became_a_number": "1E0003"}),
    "a code that lost its noughts": ({"Tag": 456}, {"tag_code_became_a_number": "00456"}),
    "only digits": ({"Tag": "0777"}, {"letters_left_off_tag_code": "CD0777"}),
    "only digits, as a number": ({"Tag": 777}, {"letters_left_off_tag_code": "CD0777"}),
    "only digits that several own tags end in": ({"Tag": "9"}, {"tag_code_of_another_shape": ""}),
    "O for 0": ({"Tag": "ABO150"}, {"look_alike_in_tag_code": "AB0150"}),
    "l for 1": ({"Tag": "AB0l51"}, {"look_alike_in_tag_code": "AB0151"}),
    "a Cyrillic letter": ({"Tag": "\u0410B0152"}, {"look_alike_in_tag_code": "AB0152"}),
    "a Greek letter": ({"Tag": "A\u03920153"}, {"look_alike_in_tag_code": "AB0153"}),
    "full-width signs": ({"Tag": "ＡＢ０１５４"}, {}),
    "Arabic figures": ({"Tag": "AB٠١٥٥"}, {}),
    "signs that nobody sees": ({"Tag": "\ufeffAB\u00ad0156\u200b"}, {}),
    "a code in quotes": ({"Tag": "“AB0157”"}, {"words_beside_tag_code": "AB0157"}),
    "one tag in place of another": ({"Tag": "AB0158 fell off, now AB0159"}, {"tag_replaced_by_another": "AB0159"}),
    "digits in place of others": ({"Tag": "0158 fell off, now 0777"}, {"tag_replaced_by_another": "CD0777"}),
    "what it was before": ({"Tag": "AB0161 (was AB0160)"}, {"tag_replaced_by_another": "AB0161"}),
    "two codes": ({"Tag": "AB0162/63"}, {"several_codes_in_a_cell": "AB0162 + AB0163"}),
    "no tag": ({"Tag": "untagged"}, {"tag_code_is_a_word": ""}),
    "no number": ({"Tag": "No #"}, {"tag_code_is_a_word": ""}),
    "dead": ({"Tag": "RIP"}, {"tag_code_is_a_word": ""}),
    "a failed formula for a code": ({"Tag": "#N/A"}, {"error_in_a_needed_cell": ""}),
    "a sex in doubt": ({"Sex": "F?"}, {"sex_uncertain": ""}),
    "a sign for the sex": ({"Sex": "♀"}, {}),
    "sex and stage crossed": ({"Sex": "A", "Stage": "F"}, {"sex_and_stage_crossed": "sex=female; lifeStage=adult"}),
    "a decimal comma": ({"Forewing mm": "51,5"}, {}),
    "a unit": ({"Weight g": "550 mg"}, {}),
    "about": ({"Forewing mm": "env. 51"}, {"measure_not_a_number": ""}),
    "two values": ({"Forewing mm": "50-52"}, {"measure_not_a_number": ""}),
    "a count that became a day": ({"Count": datetime.date(2026, 5, 6)}, {"count_became_a_day": ""}),
    "a count at least": ({"Count": "at least 1"}, {"count_not_one_number": ""}),
    "a count of one or the other": ({"Count": "4 or 5"}, {"count_not_one_number": ""}),
    "a count with its noun": ({"Count": "1 butterfly"}, {}),
    "a failed formula in a measure": ({"Weight g": "#DIV/0!"}, {"error_cell": ""}),
    "a failed formula in a word": ({"Sex": "#REF!"}, {"error_cell": ""}),
    "a failed formula for release or find": ({"Release or find": "#N/A"}, {"release_or_find_not_told": ""}),
    "a word for release or find that is not known": ({"Release or find": "seen"}, {"release_or_find_not_told": ""}),
    "a release in French": ({"Release or find": "lâcher"}, {}),
    "a sex not told": ({"Sex": "IND"}, {}),
    "a sex coded without its key": ({"Sex": 1}, {"sex_word_of_two_languages": ""}),
    "a species not told": ({"Species": "unknown"}, {"species_not_told": ""}),
    "nought for not weighed": ({"Weight g": 0}, {"measure_zero_or_less": ""}),
    "a number for not weighed": ({"Weight g": -999}, {"measure_zero_or_less": ""}),
    "not weighed, in words": ({"Weight g": "no medido"}, {}),
    "a day for a town": ({"Town": datetime.date(2026, 5, 6)}, {"place_became_a_day": ""}),
    "a time about": ({"Time": "vers 14h"}, {"clock_not_read": "14:00"}),
    "a time between two": ({"Time": "entre 14h et 15h"}, {}),
    "either of two days": ({"Date": "3 or 4 Sept 2026"}, {"day_marked_unsure": "2026-09-03/2026-09-04"}),
    "no day, in words": ({"Date": "sin fecha"}, {"day_missing": ""}),
    "a month or a day": ({"Date": "Sep-26"}, {"day_without_year": ""}),
    "a stage in doubt": ({"Stage": "adult?"}, {"stage_word_not_known": "adult"}),
    "two languages of a form": ({"Sex": "Femelle / Female", "Release or find": "Lâcher / Release"}, {}),
    "a name in doubt": ({"Species": "Monarch?"}, {"species_name_not_known": "Danaus plexippus"}),
}


@pytest.fixture(scope="module")
def asked(tmp_path_factory: pytest.TempPathFactory, gate: Gate) -> dict[int, Asked]:
    """By row of the sheet: the rules that ask about it, each with its suggestion."""
    folder = make_folder(tmp_path_factory.mktemp("cells"), settings=SETTINGS + PATTERN, tags=TAGS)
    book = Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.append(HEADINGS)
    for at, (typed, _) in enumerate(CASES.values()):
        usual = (
            f"AB{at + 1:04d}", datetime.date(2026, 9, 3), "male", "adult", "Sackville", "New Brunswick",
            (51, 48, 53, 52, 47, 54, 49)[at % 7], 0.5, 1, "14:05", "monarch", "release",
        )  # fmt: skip
        sheet.append([typed.get(heading, cell) for heading, cell in zip(HEADINGS, usual, strict=True)])
    path = folder / "inbox" / "p1" / "cells.xlsx"
    path.parent.mkdir()
    book.save(path)
    run(folder, TODAY, lambda: gate)
    found: dict[int, Asked] = defaultdict(dict)
    for line in findings(folder):
        if line["severity"] != "for-information":
            found[int(line["row"])][line["rule"]] = line["suggestion"]
    return found


@pytest.mark.parametrize("at", range(len(CASES)), ids=list(CASES))
def test_what_is_asked_about_a_cell(at: int, asked: dict[int, Asked]) -> None:
    assert asked[at + 2] == [*CASES.values()][at][1]
