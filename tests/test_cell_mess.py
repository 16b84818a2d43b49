"""Cells as people type them: each kind of mess with what the record says, and what is doubted, exactly.

The kinds are those counted in public field sheets; the cells are invented in their likeness.
"""

from __future__ import annotations

import pytest

from pipeline.files.schemas import heading_names, lists
from pipeline.model import Sheet
from pipeline.settings import Settings
from pipeline.stages.gather import gather
from pipeline.stages.map_headings import map_headings
from pipeline.stages.normalise import normalise

HEADINGS = {
    "eventDate": "Date", "tagCode": "Tag", "sex": "Sex", "forewingLength": "Wing length (mm)", "bodyMass": "Weight (g)",
    "individualCount": "How many", "scientificName": "Species", "eventTime": "Time", "municipality": "Town",
}  # fmt: skip

# field, cell, its stored kind, what the record says, the doubt, the readings offered
CASES = {
    # days
    "a true date with a time": ("eventDate", "2026-09-03T14:05:00", "d", "2026-09-03", "", ()),
    "a day that ends in dots and a short year": ("eventDate", "13.9.26", "t", "2026-09-13", "", ()),
    "a month in roman figures": ("eventDate", "8-IX-26", "t", "2026-09-08", "", ()),
    "a roman month before the day": ("eventDate", "IX.21.26", "t", "2026-09-21", "", ()),
    "a month in French": ("eventDate", "12 août 2026", "t", "2026-08-12", "", ()),
    "a month in Spanish, with its little words": ("eventDate", "3 de septiembre de 2026", "t", "2026-09-03", "", ()),
    "a weekday before it": ("eventDate", "jeudi 3 sept 2026", "t", "2026-09-03", "", ()),
    "an ordinal": ("eventDate", "3rd of September 2026", "t", "2026-09-03", "", ()),
    "eight figures": ("eventDate", "20260903", "t", "2026-09-03", "", ()),
    "the spreadsheet's number of a day, as text": ("eventDate", "46268", "t", "2026-09-03", "", ()),
    "the spreadsheet's number of a day far off": ("eventDate", "12345", "t", "12345", "not-a-day", ()),
    "blanks that do not break": ("eventDate", "3\u00a0Sept\u00a02026", "t", "2026-09-03", "", ()),
    "a sign without width behind": ("eventDate", "3 Sept 2026\u200b", "t", "2026-09-03", "", ()),
    "full-width figures": ("eventDate", "２０２６-０９-０３", "t", "2026-09-03", "", ()),
    "a day and a month that may change places": (
        "eventDate", "6.9.2026", "t", "6.9.2026", "two-readings", ("2026-09-06", "2026-06-09")),
    "no year": ("eventDate", "24oct", "t", "24oct", "no-year", ("2026-10-24",)),
    "no year, in Spanish": ("eventDate", "ago 12", "t", "ago 12", "no-year", ("2026-08-12",)),
    "a span within a month": ("eventDate", "3-5 Sept 2026", "t", "2026-09-03/2026-09-05", "", ()),
    "a span over two months": ("eventDate", "28 août au 2 sept 2026", "t", "2026-08-28/2026-09-02", "", ()),
    "a span without a year": ("eventDate", "14/09-27/09", "t", "14/09-27/09", "no-year", ("2026-09-14/2026-09-27",)),
    "a month alone": ("eventDate", "Sept 2026", "t", "2026-09", "", ()),
    "a day of zero": ("eventDate", "2026-09-00", "t", "2026-09", "", ()),
    "a month and a day of zero": ("eventDate", "2026-00-00", "t", "2026", "", ()),
    "a day that no calendar has": ("eventDate", "Sept 31 2026", "t", "Sept 31 2026", "not-in-calendar", ()),
    "a question mark behind a day": ("eventDate", "3 Sept 2026?", "t", "3 Sept 2026?", "unsure", ("2026-09-03",)),
    "either of two days": ("eventDate", "3/9/26 or 4/9/26", "t", "3/9/26 or 4/9/26", "not-a-day", ()),
    "words for a day": ("eventDate", "early September", "t", "early September", "not-a-day", ()),
    "stars before a year": ("eventDate", "**1920", "t", "**1920", "not-a-day", ()),
    "an error value where a day should be": ("eventDate", "#VALUE!", "e", "#VALUE!", "error-cell", ()),
    "a formula that was never worked out": ("eventDate", "=A2+1", "f", "=A2+1", "formula", ()),
    # codes
    "a code with a blank": ("tagCode", "SM 0101", "t", "SM0101", "", ()),
    "a code with a dash, in small letters": ("tagCode", "sm-0101", "t", "SM0101", "", ()),
    "a code in full-width signs": ("tagCode", "ＳＭ０１０１", "t", "SM0101", "", ()),
    "a code with a blank that does not break": ("tagCode", "SM\u00a00101", "t", "SM0101", "", ()),
    "a code with a sign without width": ("tagCode", "SM0101\u200b", "t", "SM0101", "", ()),
    "a code that looks like a word for nothing": ("tagCode", "NA0012", "t", "NA0012", "", ()),
    "a digit too many": ("tagCode", "SM00101", "t", "SM00101", "another-shape", ()),
    "a letter for a figure": ("tagCode", "SMO101", "t", "SMO101", "another-shape", ()),
    "a Cyrillic letter": ("tagCode", "S\u041c0101", "t", "S\u041c0101", "another-shape", ()),
    "a prefix left off": ("tagCode", "0101", "t", "0101", "another-shape", ()),
    "a star behind": ("tagCode", "SM0101*", "t", "SM0101*", "another-shape", ("SM0101",)),
    "a note in brackets": ("tagCode", "SM0101 (torn)", "t", "SM0101 (torn)", "another-shape", ("SM0101",)),
    "a sign for number before": ("tagCode", "#SM0101", "t", "#SM0101", "another-shape", ("SM0101",)),
    "two codes": ("tagCode", "SM0101/SM0102", "t", "SM0101/SM0102", "several-codes", ("SM0101", "SM0102")),
    "a block": ("tagCode", "SM0101-SM0125, 12 M 13 F", "t", "SM0101-SM0125, 12 M 13 F", "range-of-codes",
                ("SM0101", "SM0125")),
    "one tag in place of another": ("tagCode", "SM0101 fell off, now SM0102", "t", "SM0101 fell off, now SM0102",
                                    "re-tagged", ("SM0102",)),
    "one tag in place of another, in French": ("tagCode", "SM0101 remplacée par SM0102", "t",
                                               "SM0101 remplacée par SM0102", "re-tagged", ("SM0102",)),
    "a code that became a day": ("tagCode", "2026-06-01", "d", "2026-06-01", "became-a-day", ()),
    "a code that became a number": ("tagCode", "100000", "n", "100000", "became-a-number", ()),
    "a code that became a power of ten": ("tagCode", "1.00E+05", "t", "1.00E+05", "became-a-number", ()),
    "a word in the code's column": ("tagCode", "untagged", "t", "untagged", "not-a-code", ()),
    "a dead one": ("tagCode", "RIP", "t", "RIP", "not-a-code", ()),
    "an error value where a code should be": ("tagCode", "#N/A", "e", "#N/A", "error-cell", ()),
    # numbers
    "a unit behind": ("bodyMass", "0.5g", "t", "0.5", "", ()),
    "a unit with a point": ("forewingLength", "51 mm.", "t", "51", "", ()),
    "a decimal comma": ("forewingLength", "51,50", "t", "51.50", "", ()),
    "another unit": ("bodyMass", "550 mg", "t", "0.55", "", ()),
    "inches": ("forewingLength", "2 in", "t", "50.8", "", ()),
    "full-width figures in a measure": ("forewingLength", "５１", "t", "51", "", ()),
    "more than": ("individualCount", ">100", "t", ">100", "approximate", ("100",)),
    "at least": ("individualCount", "at least 1", "t", "at least 1", "approximate", ("1",)),
    "at least, in French": ("individualCount", "au moins 3", "t", "au moins 3", "approximate", ("3",)),
    "about": ("forewingLength", "~ 51", "t", "~ 51", "approximate", ("51",)),
    "about, in Spanish": ("forewingLength", "aprox. 51", "t", "aprox. 51", "approximate", ("51",)),
    "a question mark in brackets": ("individualCount", "800 (?)", "t", "800 (?)", "approximate", ("800",)),
    "a note in brackets behind a number": (
        "bodyMass", "0.6 (scale not calibrated)", "t", "0.6 (scale not calibrated)", "approximate", ("0.6",)),
    "one or the other": ("individualCount", "4 or 5", "t", "4 or 5", "two-values", ()),
    "a second number in brackets": ("bodyMass", "33 (3)", "t", "33 (3)", "two-values", ()),
    "give or take": ("forewingLength", "51±1", "t", "51±1", "not-a-number", ()),
    "a letter before": ("forewingLength", "P50.7", "t", "P50.7", "not-a-number", ()),
    "a count that became a day": ("individualCount", "2025-05-06", "d", "2025-05-06", "not-a-number", ()),
    "a word for nothing among numbers": ("forewingLength", "n/a", "t", "", "", ()),
    "an error value among numbers": ("forewingLength", "#DIV/0!", "e", "#DIV/0!", "error-cell", ()),
    # words
    "a sign for female": ("sex", "♀", "t", "female", "", ()),
    "a sign with a doubt": ("sex", "♂?", "t", "♂?", "unsure", ("male",)),
    "a doubt": ("sex", "F?", "t", "F?", "unsure", ("female",)),
    "how it was told": ("sex", "M/iris", "t", "M/iris", "unsure", ("male",)),
    "a blank behind": ("sex", "female ", "t", "female", "", ()),
    "another language": ("sex", "Mâle", "t", "male", "", ()),
    "a number without its key": ("sex", "1", "t", "1", "two-languages", ()),
    "both": ("sex", "M or F", "t", "M or F", "not-in-list", ()),
    "not a sex": ("sex", "not sent", "t", "not sent", "not-in-list", ()),
    "not known": ("sex", "Unknown", "t", "", "", ()),
    "a name in French": ("scientificName", "monarque", "t", "Danaus plexippus", "", ()),
    "a name cut short": ("scientificName", "D. plexippus", "t", "Danaus plexippus", "", ()),
    "a name with a doubt": (
        "scientificName", "Danaus cf. plexippus", "t", "Danaus cf. plexippus", "unsure", ("Danaus plexippus",)),
    "a row that is no observation": ("scientificName", "Trap Malfunction", "t", "Trap Malfunction", "not-in-list", ()),
    "a time in three figures": ("eventTime", "615", "t", "06:15", "", ()),
    "a time with an h": ("eventTime", "6h30", "t", "06:30", "", ()),
    "two times": ("eventTime", "5:48; 8:28", "t", "5:48; 8:28", "not-a-time", ()),
    "a hyphen for nothing": ("municipality", "-", "t", "-", "", ()),
}  # fmt: skip


Case = tuple[str, str, str, str, str, tuple[str, ...]]


@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
def test_a_cell_says_what_can_be_read_in_it_and_no_more(case: Case) -> None:
    field, cell, kind, value, doubt, readings = case
    head = [*dict.fromkeys(["Tag", "Date", "Town", HEADINGS[field]])]
    line = {"Tag": "SM0001", "Date": "2026-09-03", "Town": "Truro", HEADINGS[field]: cell}
    kinds = "".join(kind if one == HEADINGS[field] else "t" for one in head)
    sheet = Sheet("p1/a.xlsx", "0" * 64, "", (tuple(head), tuple(line[one] for one in head)), ("t" * len(head), kinds))
    records = gather(map_headings(sheet, heading_names()))
    row = normalise(records, lists(), Settings()).rows.iloc[0]
    assert (row[field], row[f"{field}_doubt"]) == (value, doubt)
    assert tuple(filter(None, row[f"{field}_candidates"].split(" | "))) == readings
    assert row[f"{field}_written"] == cell.strip() or kind == "d", "what was typed stays beside it"
