"""Cells as people type them: each kind of mess with what the record says, and what is doubted, exactly.

The kinds are those counted in public field sheets; the cells are invented in their likeness.
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pipeline.files.schemas import heading_names, lists
from pipeline.model import Sheet
from pipeline.settings import Settings
from pipeline.stages.gather import gather
from pipeline.stages.map_headings import map_headings
from pipeline.stages.normalise import normalise
from pipeline.values.readers import cell_reader

HEADINGS = {
    "eventDate": "Date", "tagCode": "Tag", "sex": "Sex", "forewingLength": "Wing length (mm)", "bodyMass": "Weight (g)",
    "individualCount": "How many", "scientificName": "Species", "eventTime": "Time", "municipality": "Town",
    "lifeStage": "Stage", "countryCode": "Country", "minimumElevationInMeters": "Elevation (m)",
}  # fmt: skip

# field, cell, its stored kind, what the record says, the doubt, the readings offered
CASES = {
    # days
    "a true date with a time": ("eventDate", "2026-09-03T14:05:00", "d", "2026-09-03", "", ()),
    "a true date of no calendar": ("eventDate", "2026-09-00", "d", "2026-09", "", ()),
    "a true date of another age": ("eventDate", "9999-09-03", "d", "9999-09-03", "not-a-day", ()),
    "a day that ends in dots and a short year": ("eventDate", "13.9.26", "t", "2026-09-13", "", ()),
    "a month in roman figures": ("eventDate", "8-IX-26", "t", "2026-09-08", "", ()),
    "a roman month before the day": ("eventDate", "IX.21.26", "t", "2026-09-21", "", ()),
    "a month in French": ("eventDate", "12 août 2026", "t", "2026-08-12", "", ()),
    "a month in Spanish, with its little words": ("eventDate", "3 de septiembre de 2026", "t", "2026-09-03", "", ()),
    "a weekday before it": ("eventDate", "jeudi 3 sept 2026", "t", "2026-09-03", "", ()),
    "an ordinal": ("eventDate", "3rd of September 2026", "t", "2026-09-03", "", ()),
    "eight figures": ("eventDate", "20260903", "t", "2026-09-03", "", ()),
    "the spreadsheet's number of a day, as text": (
        "eventDate", "46268", "t", "46268", "number-of-a-day", ("2026-09-03", "2030-09-04")),
    "the spreadsheet's number of a day": (
        "eventDate", "46268", "n", "46268", "number-of-a-day", ("2026-09-03", "2030-09-04")),
    "the number of a day counted from 1904": (
        "eventDate", "44806", "t", "44806", "number-of-a-day", ("2022-09-02", "2026-09-03")),
    "the spreadsheet's number of a day far off": ("eventDate", "12345", "t", "12345", "not-a-day", ()),
    "blanks that do not break": ("eventDate", "3\u00a0Sept\u00a02026", "t", "2026-09-03", "", ()),
    "a sign without width behind": ("eventDate", "3 Sept 2026\u200b", "t", "2026-09-03", "", ()),
    "full-width figures": ("eventDate", "２０２６-０９-０３", "t", "2026-09-03", "", ()),
    "a day and a month that may change places": (
        "eventDate", "6.9.2026", "t", "6.9.2026", "two-readings", ("2026-09-06", "2026-06-09")),
    "no year": ("eventDate", "24oct", "t", "24oct", "no-year", ("2026-10-24",)),
    "no year, in Spanish": ("eventDate", "ago 12", "t", "ago 12", "no-year", ("2026-08-12",)),
    "a half of the day behind it": ("eventDate", "15 sept 2026 matin", "t", "2026-09-15", "", ()),
    "a half of the day in brackets": ("eventDate", "15 Sept 2026 (evening)", "t", "2026-09-15", "", ()),
    "an hour behind it": ("eventDate", "15 Sept 2026 at 2 pm", "t", "2026-09-15", "", ()),
    "an hour behind it, in French": ("eventDate", "15/9/2026 à 14 h", "t", "2026-09-15", "", ()),
    "a time before it": ("eventDate", "14:05 15/9/2026", "t", "2026-09-15", "", ()),
    "a Spanish month of three letters": ("eventDate", "15-ago-26", "t", "2026-08-15", "", ()),
    "a month of two letters": ("eventDate", "3no", "t", "3no", "not-a-day", ()),
    "four figures that are no year of ours": ("eventDate", "0903", "t", "0903", "not-a-day", ()),
    "six figures": ("eventDate", "030926", "t", "030926", "not-a-day", ()),
    "a year with a figure too many": ("eventDate", "15/09/20226", "t", "15/09/20226", "not-a-day", ()),
    "dots, month first": ("eventDate", "9.22.2026", "t", "2026-09-22", "", ()),
    "a day first in small figures, year of four": ("eventDate", "2026/9/3", "t", "2026-09-03", "", ()),
    "between two days": ("eventDate", "between 3 and 5 Sept 2026", "t", "2026-09-03/2026-09-05", "", ()),
    "between two days, in French": ("eventDate", "entre le 3 et le 5 sept 2026", "t", "2026-09-03/2026-09-05", "", ()),
    "between two days, in Spanish": (
        "eventDate", "entre el 3 y el 5 de sept de 2026", "t", "2026-09-03/2026-09-05", "", ()),
    "a span with a dash between two whole days": ("eventDate", "14/9/26-15/9/26", "t", "2026-09-14/2026-09-15", "", ()),
    "a span that may be read in two ways": (
        "eventDate", "7/4 - 7/7/26", "t", "7/4 - 7/7/26", "two-readings",
        ("2026-04-07/2026-07-07", "2026-07-04/2026-07-07")),
    "a span that runs backwards": ("eventDate", "5-3 Sept 2026", "t", "5-3 Sept 2026", "not-in-calendar", ()),
    "two days of one cell": ("eventDate", "3 & 4 Sept 2026", "t", "3 & 4 Sept 2026", "not-a-day", ()),
    "a span within a month": ("eventDate", "3-5 Sept 2026", "t", "2026-09-03/2026-09-05", "", ()),
    "a span over two months": ("eventDate", "28 août au 2 sept 2026", "t", "2026-08-28/2026-09-02", "", ()),
    "a span without a year": ("eventDate", "14/09-27/09", "t", "14/09-27/09", "no-year", ("2026-09-14/2026-09-27",)),
    "a month alone": ("eventDate", "Sept 2026", "t", "2026-09", "", ()),
    "a day of zero": ("eventDate", "2026-09-00", "t", "2026-09", "", ()),
    "a month and a day of zero": ("eventDate", "2026-00-00", "t", "2026", "", ()),
    "a day that no calendar has": ("eventDate", "Sept 31 2026", "t", "Sept 31 2026", "not-in-calendar", ()),
    "a question mark behind a day": ("eventDate", "3 Sept 2026?", "t", "3 Sept 2026?", "unsure", ("2026-09-03",)),
    "a question mark before a day": ("eventDate", "?3 Sept 2026", "t", "?3 Sept 2026", "unsure", ("2026-09-03",)),
    "a question mark within a day": ("eventDate", "3? Sept 2026", "t", "3? Sept 2026", "not-a-day", ()),
    "about a day": ("eventDate", "on or about 3 Sept 2026", "t", "on or about 3 Sept 2026", "unsure", ("2026-09-03",)),
    "about a day, in French": (
        "eventDate", "vers le 3 sept 2026", "t", "vers le 3 sept 2026", "unsure", ("2026-09-03",)),
    "the start of a month": ("eventDate", "early Sept 2026", "t", "early Sept 2026", "unsure", ("2026-09",)),
    "the middle of a month, in French": (
        "eventDate", "mi-septembre 2026", "t", "mi-septembre 2026", "unsure", ("2026-09",)),
    "the end of a month, in Spanish": (
        "eventDate", "fines de septiembre de 2026", "t", "fines de septiembre de 2026", "unsure", ("2026-09",)),
    "either of two days": ("eventDate", "3/9/26 or 4/9/26", "t", "3/9/26 or 4/9/26", "not-a-day", ()),
    "either of two neighbouring days": (
        "eventDate", "3 or 4 Sept 2026", "t", "3 or 4 Sept 2026", "unsure", ("2026-09-03/2026-09-04",)),
    "either of two days apart": ("eventDate", "3 ou 14 sept 2026", "t", "3 ou 14 sept 2026", "not-a-day", ()),
    "an estimate behind a day": (
        "eventDate", "2026-09-03 (est.)", "t", "2026-09-03 (est.)", "unsure", ("2026-09-03",)),
    "a star behind a day": ("eventDate", "2026-09-03*", "t", "2026-09-03*", "unsure", ("2026-09-03",)),
    "a day in brackets": ("eventDate", "[3 Sept 2026]", "t", "2026-09-03", "", ()),
    "a day or a month with its year": ("eventDate", "Sep-26", "t", "Sep-26", "no-year", ("2026-09-26", "2026-09")),
    "a day or a month with its year, in figures": (
        "eventDate", "9/26", "t", "9/26", "no-year", ("2026-09-26", "2026-09")),
    "a day with a month that is none of a year": ("eventDate", "Sep-27", "t", "Sep-27", "no-year", ("2026-09-27",)),
    "no day, in Spanish": ("eventDate", "sin fecha", "t", "", "", ()),
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
    "a blank between two codes": (
        "tagCode", "SM0101 SM0102", "t", "SM0101 SM0102", "several-codes", ("SM0101", "SM0102")),
    "a second code cut short": ("tagCode", "SM0101/02", "t", "SM0101/02", "several-codes", ("SM0101", "SM0102")),
    "codes that share their letters": (
        "tagCode", "SM0101, 0102, 0103", "t", "SM0101, 0102, 0103", "several-codes", ("SM0101", "SM0102", "SM0103")),
    "two codes on two lines": (
        "tagCode", "SM0101\nSM0102", "t", "SM0101\nSM0102", "several-codes", ("SM0101", "SM0102")),
    "either of two codes": ("tagCode", "SM0101 or SM0107", "t", "SM0101 or SM0107", "another-shape", ()),
    "two codes among words": ("tagCode", "SM0101 near SM0107", "t", "SM0101 near SM0107", "another-shape", ()),
    "a block with dots": ("tagCode", "SM0101…SM0103", "t", "SM0101…SM0103", "range-of-codes", ("SM0101", "SM0103")),
    "an arrow": ("tagCode", "SM0101 -> SM0102", "t", "SM0101 -> SM0102", "re-tagged", ("SM0102",)),
    "an arrow of one sign": ("tagCode", "SM0101→SM0102", "t", "SM0101→SM0102", "re-tagged", ("SM0102",)),
    "what it was before": ("tagCode", "SM0102 (was SM0101)", "t", "SM0102 (was SM0101)", "re-tagged", ("SM0102",)),
    "was and now": ("tagCode", "was SM0101 now SM0102", "t", "was SM0101 now SM0102", "re-tagged", ("SM0102",)),
    "tagged again": ("tagCode", "re-tagged SM0102", "t", "re-tagged SM0102", "re-tagged", ("SM0102",)),
    "instead of another": (
        "tagCode", "SM0102 replaces SM0101", "t", "SM0102 replaces SM0101", "re-tagged", ("SM0102",)),
    "instead of another, in French": (
        "tagCode", "SM0102 remplace SM0101", "t", "SM0102 remplace SM0101", "re-tagged", ("SM0102",)),
    "lost and another put on": (
        "tagCode", "SM0101 lost, SM0102 put on", "t", "SM0101 lost, SM0102 put on", "re-tagged", ("SM0102",)),
    "fallen off, in French": (
        "tagCode", "SM0101 tombée, SM0102", "t", "SM0101 tombée, SM0102", "re-tagged", ("SM0102",)),
    "fallen off, in Spanish": (
        "tagCode", "SM0101 se cayó, ahora SM0102", "t", "SM0101 se cayó, ahora SM0102", "re-tagged", ("SM0102",)),
    "figures only, one in place of another": (
        "tagCode", "0101 fell off, now 0102", "t", "0101 fell off, now 0102", "re-tagged", ()),
    "a lost tag alone": ("tagCode", "SM0101 lost", "t", "SM0101 lost", "another-shape", ("SM0101",)),
    "a code with a point": ("tagCode", "SM.0101", "t", "SM.0101", "another-shape", ("SM0101",)),
    "a code in quotes": ("tagCode", "“SM0101”", "t", "“SM0101”", "another-shape", ("SM0101",)),
    "a code in single quotes": ("tagCode", "‘SM0101’", "t", "‘SM0101’", "another-shape", ("SM0101",)),
    "a question mark behind a code": ("tagCode", "SM0101?", "t", "SM0101?", "another-shape", ("SM0101",)),
    "a question mark for a figure": ("tagCode", "SM010?", "t", "SM010?", "another-shape", ()),
    "a suffix": ("tagCode", "SM0101A", "t", "SM0101A", "another-shape", ()),
    "Arabic figures in a code": ("tagCode", "SM٠١٠١", "t", "SM0101", "", ()),
    "a hyphen that nobody sees": ("tagCode", "SM\u00ad0101", "t", "SM0101", "", ()),
    "a mark at the start of a file": ("tagCode", "\ufeffSM0101", "t", "SM0101", "", ()),
    "a small figure set high": ("tagCode", "SM010²", "t", "SM010²", "another-shape", ()),
    "a small l for a figure": ("tagCode", "SM0l01", "t", "SM0l01", "another-shape", ()),
    "a Greek letter": ("tagCode", "S\u039c0101", "t", "S\u039c0101", "another-shape", ()),
    "a code cut to a power of ten, without a point": ("tagCode", "1E+05", "t", "1E+05", "became-a-number", ()),
    "a code cut to a power of ten, in another program": ("tagCode", "1.E+05", "t", "1.E+05", "became-a-number", ()),
    "a code that became a day, as text": ("tagCode", "12-Dec", "t", "12-Dec", "became-a-day", ()),
    "a code that became a day, in French": ("tagCode", "12-déc", "t", "12-déc", "became-a-day", ()),
    "a number without its letters": ("tagCode", "101", "n", "101", "became-a-number", ()),
    "no number": ("tagCode", "No #", "t", "No #", "not-a-code", ()),
    "escaped": ("tagCode", "*escaped", "t", "*escaped", "not-a-code", ()),
    "without a tag, in French": ("tagCode", "sans étiquette", "t", "sans étiquette", "not-a-code", ()),
    "without a tag, in Spanish": ("tagCode", "sin etiqueta", "t", "sin etiqueta", "not-a-code", ()),
    "a word for nothing in the code's column": ("tagCode", "N/A", "t", "N/A", "not-a-code", ()),
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
    "a unit of a few letters, in Spanish": ("forewingLength", "2 pulg.", "t", "50.8", "", ()),
    "the unit in a word, in French": ("forewingLength", "51 millimètres", "t", "51", "", ()),
    "tenths behind a comma, with a unit": ("bodyMass", "0,55 gr", "t", "0.55", "", ()),
    "Arabic figures": ("forewingLength", "٥١٫٥", "t", "51.5", "", ()),
    "a point in the middle": ("forewingLength", "51·5", "t", "51.5", "", ()),
    "a blank that does not break before the unit": ("forewingLength", "51\u00a0mm", "t", "51", "", ()),
    "a mark that makes a text of it": ("forewingLength", "'51", "t", "51", "", ()),
    "a power of ten": ("forewingLength", "5.15E+01", "t", "51.5", "", ()),
    "groups of thousands and a point": ("individualCount", "1,234.0", "t", "1234", "", ()),
    "a comma for tenths or for thousands": (
        "individualCount", "1,234", "t", "1,234", "two-values", ("1.234", "1234")),
    "a count with a part of nought": ("individualCount", "3.0", "t", "3", "", ()),
    "a count with its noun": ("individualCount", "3 monarchs", "t", "3", "", ()),
    "a count with its noun, in French": ("individualCount", "2 papillons", "t", "2", "", ()),
    "a note of small figures": ("forewingLength", "51²", "t", "51²", "not-a-number", ()),
    "inches of a telephone": ("forewingLength", "2”", "t", "50.8", "", ()),
    "feet of a telephone": ("minimumElevationInMeters", "100’", "t", "30.48", "", ()),
    "French thousands": ("minimumElevationInMeters", "1\u202f234 m", "t", "1234", "", ()),
    "a comma before three figures and a unit": (
        "minimumElevationInMeters", "8,600 ft", "t", "8,600 ft", "two-values", ("2.62128", "2621.28")),
    "ish": ("forewingLength", "50ish", "t", "50ish", "approximate", ("50",)),
    "fewer than, in words": ("individualCount", "fewer than 5", "t", "fewer than 5", "approximate", ("5",)),
    "not measured": ("forewingLength", "not measured", "t", "", "", ()),
    "not measured, in French": ("bodyMass", "non mesuré", "t", "", "", ()),
    "a half": ("forewingLength", "2½ in", "t", "2½ in", "not-a-number", ()),
    "a letter for a nought": ("forewingLength", "5O", "t", "5O", "not-a-number", ()),
    "fewer than": ("individualCount", "<3", "t", "<3", "approximate", ("3",)),
    "fewer than some minutes": ("individualCount", "<3 min", "t", "<3 min", "not-a-number", ()),
    "or more": ("individualCount", "5+", "t", "5+", "approximate", ("5",)),
    "about, in French": ("forewingLength", "env. 51 mm", "t", "env. 51 mm", "approximate", ("51",)),
    "about, in a letter": ("forewingLength", "c. 51", "t", "c. 51", "approximate", ("51",)),
    "about, behind it": ("forewingLength", "51 mm approx.", "t", "51 mm approx.", "approximate", ("51",)),
    "estimated": ("forewingLength", "51 (est.)", "t", "51 (est.)", "approximate", ("51",)),
    "at most": ("forewingLength", "max 52", "t", "max 52", "approximate", ("52",)),
    "a question mark before a number": ("forewingLength", "?51", "t", "?51", "approximate", ("51",)),
    "a star behind a number": ("forewingLength", "51*", "t", "51*", "approximate", ("51",)),
    "an estimate in another unit": ("forewingLength", "~5 cm", "t", "~5 cm", "approximate", ("50",)),
    "a range of numbers": ("forewingLength", "50-52", "t", "50-52", "two-values", ()),
    "one or the other, in French": ("individualCount", "4 ou 5", "t", "4 ou 5", "two-values", ()),
    "none of a count": ("individualCount", "none", "t", "none", "not-a-number", ()),
    "a count in words": ("individualCount", "a few", "t", "a few", "not-a-number", ()),
    "a measure that became a day": ("forewingLength", "2026-05-01", "d", "2026-05-01", "not-a-number", ()),
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
    "two languages of a form": ("sex", "Femelle / Female", "t", "female", "", ()),
    "a word and its sign": ("sex", "male (♂)", "t", "male", "", ()),
    "twice the same": ("sex", "M/M", "t", "M/M", "not-in-list", ()),
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
    "a sex not told": ("sex", "IND", "t", "", "", ()),
    "a sex not told, in a letter": ("sex", "U", "t", "", "", ()),
    "a sex not told, in French": ("sex", "indéterminée", "t", "", "", ()),
    "a sex not told, and a doubt": ("sex", "unknown male?", "t", "unknown male?", "not-in-list", ()),
    "a letter in full width": ("sex", "Ｆ", "t", "female", "", ()),
    "a letter in a ring": ("sex", "Ⓜ", "t", "male", "", ()),
    "a letter with a sign without width": ("sex", "F\u200b", "t", "female", "", ()),
    "a letter in brackets": ("sex", "(F)", "t", "female", "", ()),
    "a doubt in words": ("sex", "probably F", "t", "probably F", "unsure", ("female",)),
    "a doubt in French": ("sex", "peut-être M", "t", "peut-être M", "unsure", ("male",)),
    "both signs": ("sex", "♀/♂", "t", "♀/♂", "not-in-list", ()),
    "another column's value": ("sex", "A", "t", "A", "not-in-list", ()),
    "a letter of two languages": ("sex", "H", "t", "H", "two-languages", ()),
    "an error value where a word should be": ("sex", "#REF!", "e", "#REF!", "error-cell", ()),
    "a country whose code looks like nothing": ("countryCode", "NA", "t", "NA", "", ()),
    "a stage cut short": ("lifeStage", "ad.", "t", "adult", "", ()),
    "a stage of larvae": ("lifeStage", "L5", "t", "larva", "", ()),
    "a word for nothing, in Spanish": ("sex", "sin datos", "t", "", "", ()),
    "a word for nothing, in French": ("sex", "non noté", "t", "", "", ()),
    "a name with its author": ("scientificName", "Danaus plexippus (Linnaeus, 1758)", "t", "Danaus plexippus", "", ()),
    "a name in Spanish": ("scientificName", "mariposa monarca", "t", "Danaus plexippus", "", ()),
    "a name in both": ("scientificName", "Monarch (Danaus plexippus)", "t", "Danaus plexippus", "", ()),
    "a name with a question mark": (
        "scientificName", "Monarch?", "t", "Monarch?", "unsure", ("Danaus plexippus",)),
    "a misspelt name": ("scientificName", "Danus plexipus", "t", "Danus plexipus", "not-in-list", ()),
    "a genus": ("scientificName", "Danaus sp.", "t", "Danaus", "", ()),
    "an error value where a name should be": ("scientificName", "#NAME?", "e", "#NAME?", "error-cell", ()),
    "a time of 12 hours": ("eventTime", "2:30 p.m.", "t", "14:30", "", ()),
    "a time in Spanish": ("eventTime", "14:30 hrs", "t", "14:30", "", ()),
    "noon": ("eventTime", "midi", "t", "12:00", "", ()),
    "a span of times": ("eventTime", "2-3:30 pm", "t", "14:00/15:30", "", ()),
    "a part of a day": ("eventTime", "0.5", "n", "12:00", "", ()),
    "hours with a point": ("eventTime", "14.3", "n", "14.3", "two-readings", ("14:30", "14:18")),
    "a length of time": ("eventTime", "3 min 25 s", "t", "3 min 25 s", "not-a-time", ()),
    "a time past midnight": ("eventTime", "25:10", "t", "25:10", "not-a-time", ()),
    "a time about": ("eventTime", "~14:30", "t", "~14:30", "unsure", ("14:30",)),
    "a time about, in French": ("eventTime", "vers 14h30", "t", "vers 14h30", "unsure", ("14:30",)),
    "a time between two, in French": ("eventTime", "entre 14h et 15h30", "t", "14:00/15:30", "", ()),
    "a half of the day in words": ("eventTime", "2 h de l’après-midi", "t", "14:00", "", ()),
    "a time in Arabic figures": ("eventTime", "١٤:٣٠", "t", "14:30", "", ()),
    "a part of the day in words": ("eventTime", "afternoon", "t", "afternoon", "not-a-time", ()),
    "a soft hyphen in a word": ("municipality", "Sack\u00adville", "t", "Sackville", "", ()),
    "a mark at the start of a text": ("municipality", "\ufeffTruro", "t", "Truro", "", ()),
    "quotes in a text": ("municipality", "“Truro”", "t", "“Truro”", "", ()),
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


READERS = {field.name: cell_reader(field, lists(), Settings()) for field in lists().fields}
CONTEXTS = {"day": "ask", "latitude": "//", "longitude": "//"}
READ_AS = {field.name: field.read_as for field in lists().fields}
ONE_OF_EACH = sorted({read_as: name for name, read_as in READ_AS.items()}.values())
TYPED = st.one_of(
    st.sampled_from([case[1] for case in CASES.values()]),
    st.text(max_size=30),
    st.text("0123456789 /.,:-?~()+#*SMsmabeghinoptv", max_size=16),
    st.tuples(st.sampled_from([case[1] for case in CASES.values()]), st.text(max_size=4)).map("".join),
)


@pytest.mark.parametrize("field", ONE_OF_EACH)
@given(typed=TYPED, kind=st.sampled_from("tndcb"))
def test_what_was_read_is_read_again_as_itself(field: str, typed: str, kind: str) -> None:
    context = CONTEXTS.get(READ_AS[field], "")
    reading = READERS[field](typed, kind, context)
    if reading.value and not reading.doubt:
        assert READERS[field](reading.value, "t", context)[:3] == (reading.value, "", "")
