"""Sheets as people lay them out: each kind of mess with the very rows and values that must come of it.

The kinds are those counted on 47 public field files (22 workbooks, 25 text files); every sheet here is invented.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import NamedTuple

import pandas as pd
import pytest

from pipeline.files.schemas import heading_names, lists
from pipeline.model import Sheet, Table
from pipeline.settings import Settings
from pipeline.stages.describe import describe_headings
from pipeline.stages.gather import gather
from pipeline.stages.map_headings import map_headings
from pipeline.stages.normalise import normalise


class Mess(NamedTuple):
    """A sheet in lines with `|` between cells, and the records that it holds, in the same way: row, part, fields."""

    sheet: str
    records: str
    left_out: str = ""
    name: str = ""
    merged: tuple[tuple[int, int, int, int], ...] = ()


def cells_of(text: str) -> list[list[str]]:
    return [[cell.strip() for cell in line.split("|")] for line in text.strip().split("\n")]


def sheet_of(mess: Mess) -> Sheet:
    texts = tuple(map(tuple, cells_of(mess.sheet)))
    kinds = tuple("".join("-" if not cell else "n" if cell.isdecimal() else "t" for cell in row) for row in texts)
    return Sheet("p1/a.xlsx", "0" * 64, mess.name, texts, kinds, merged=mess.merged)


def tables_of(mess: Mess) -> tuple[Table, ...]:
    return map_headings(sheet_of(mess), heading_names())


def rows_of(tables: Sequence[Table]) -> pd.DataFrame:
    return normalise(gather(tables), lists(), Settings()).rows


def records_of(mess: Mess) -> list[list[str]]:
    """The records with the columns that the case names, and its heading line."""
    head = cells_of(mess.records)[0]
    rows = rows_of(tables_of(mess))
    rows = (rows if "part" in rows else rows.assign(part="")).sort_values(["row", "part"], kind="stable")
    return [head, *(list(map(str, line)) for line in rows[head].itertuples(index=False))]


ABOVE = {
    "a title, who and where above the headings": Mess(
        """
        Saltmarsh 2026 tagging season
        Name: | Ines Melanson
        Town: Truro
        Date: | 3 Sept 2026

        Tag | Sex
        SM0101 | M
        SM0102 | F
        """,
        """
        row | tagCode | eventDate  | municipality | recordedBy
        7   | SM0101  | 2026-09-03 | Truro        | Ines Melanson
        8   | SM0102  | 2026-09-03 | Truro        | Ines Melanson
        """,
    ),
    "the datum given once": Mess(
        """
        Datum: | NAD27
        Tag | Date | Lat | Long
        SM0101 | 2026-09-03 | 45.9 | -64.4
        """,
        """
        row | tagCode | geodeticDatum | decimalLatitude
        3   | SM0101  | NAD27         | 45.9
        """,
    ),
    "the letters of the codes given once": Mess(
        """
        Tag prefix: | SM
        Number | Date | Town
        0101 | 2026-09-03 | Truro
        0102 | 2026-09-04 | Truro
        """,
        """
        row | tagCode | eventDate
        3   | SM0101  | 2026-09-03
        4   | SM0102  | 2026-09-04
        """,
    ),
    "labels in French above": Mess(
        """
        Fiche de marquage
        Nom : | Rémi Doucet
        Lieu : | Bouctouche
        Étiquette | Date | Sexe
        SM0101 | 2026-09-03 | M
        """,
        """
        row | tagCode | recordedBy  | locality
        5   | SM0101  | Rémi Doucet | Bouctouche
        """,
    ),
    "a blank row right under the headings": Mess(
        """
        Tag | Date | Town

        SM0101 | 2026-09-03 | Truro
        """,
        """
        row | tagCode
        3   | SM0101
        """,
    ),
}

HEADINGS = {
    "headings in two rows, groups above": Mess(
        """
        Tag | Date | Place |  | Wing |
         |  | Town | Province | length (mm) | wear
        SM0101 | 2026-09-03 | Truro | Nova Scotia | 51 | 2
        """,
        """
        row | tagCode | municipality | stateProvince | forewingLength | wingWear
        3   | SM0101  | Truro        | Nova Scotia   | 51             | 2
        """,
    ),
    "headings in two rows, the second completes the first": Mess(
        """
        Tag | Release | Release | Wing length
        number | date | town | (mm)
        SM0101 | 2026-09-03 | Truro | 51
        """,
        """
        row | tagCode | eventDate  | municipality | forewingLength
        3   | SM0101  | 2026-09-03 | Truro        | 51
        """,
    ),
    "a row of units under the headings": Mess(
        """
        Tag | Date | Town | Wing length | Weight
         |  |  | (mm) | (g)
        SM0101 | 2026-09-03 | Truro | 51 | 0.55
        """,
        """
        row | tagCode | forewingLength | bodyMass
        3   | SM0101  | 51             | 0.55
        """,
    ),
    "headings in two languages, one row each": Mess(
        """
        Tag | Date | Sex | Town
        Étiquette | Date | Sexe | Ville
        SM0101 | 2026-09-03 | M | Truro
        """,
        """
        row | tagCode | sex  | municipality
        3   | SM0101  | male | Truro
        """,
    ),
    "questions of a form as headings": Mess(
        """
        Timestamp | What is the code on the tag? | On which day did you let it go? | Male or female? | In which town?
        2026/09/04 10:11:12 | SM0101 | 3 Sept 2026 | Female | Truro
        """,
        """
        row | tagCode | eventDate  | sex    | municipality
        2   | SM0101  | 2026-09-03 | female | Truro
        """,
    ),
    "headings that a machine wrote": Mess(
        """
        fields__tag_code | fields__event_date | fields__sex | fields__location__latitude | fields__location__longitude
        SM0101 | 2026-09-03 | M | 45.9 | -64.4
        """,
        """
        row | tagCode | eventDate  | sex  | decimalLatitude | decimalLongitude
        2   | SM0101  | 2026-09-03 | male | 45.9            | -64.4
        """,
    ),
    "headings with keys and units": Mess(
        """
        Tag # | Date (d/m/y) | sex (M/F) | Wing (mm) | Town
        SM0101 | 13/9/2026 | F | 51 | Truro
        """,
        """
        row | tagCode | eventDate  | sex    | forewingLength
        2   | SM0101  | 2026-09-13 | female | 51
        """,
    ),
    "a row index without a heading": Mess(
        """
         | Tag | Date | Town
        1 | SM0101 | 2026-09-03 | Truro
        2 | SM0102 | 2026-09-04 | Truro
        """,
        """
        row | tagCode
        2   | SM0101
        3   | SM0102
        """,
    ),
    "letters and digits of the code apart": Mess(
        """
        Letters | Number | Date | Town
        SM | 0101 | 2026-09-03 | Truro
        """,
        """
        row | tagCode
        2   | SM0101
        """,
    ),
}

TABLES = {
    "two tables side by side": Mess(
        """
        Tag | Date | Sex |  | Tag | Date | Sex
        SM0101 | 2026-09-03 | M |  | SM0201 | 2026-09-05 | F
        SM0102 | 2026-09-04 | F |  | SM0202 | 2026-09-06 | M
         |  |  |  | SM0203 | 2026-09-07 | M
        """,
        """
        row | tagCode | eventDate  | sex
        2   | SM0101  | 2026-09-03 | male
        2   | SM0201  | 2026-09-05 | female
        3   | SM0102  | 2026-09-04 | female
        3   | SM0202  | 2026-09-06 | male
        4   | SM0203  | 2026-09-07 | male
        """,
    ),
    "tables below each other with other headings": Mess(
        """
        Tag | Date | Sex
        SM0101 | 2026-09-03 | M

        Étiquette | Sexe | Date
        SM0201 | F | 2026-09-05
        """,
        """
        row | tagCode | eventDate  | sex
        2   | SM0101  | 2026-09-03 | male
        5   | SM0201  | 2026-09-05 | female
        """,
    ),
    "tables below each other, each with its own town above": Mess(
        """
        Town: Truro
        Tag | Date | Sex
        SM0101 | 2026-09-03 | M

        Town: Amherst
        Tag | Date | Sex
        SM0201 | 2026-09-05 | F
        """,
        """
        row | tagCode | municipality
        3   | SM0101  | Truro
        7   | SM0201  | Amherst
        """,
    ),
    "three tags in a row, numbered": Mess(
        """
        Date | Town | Tag 1 | Sex 1 | Tag 2 | Sex 2 | Tag 3 | Sex 3
        2026-09-03 | Truro | SM0101 | M | SM0102 | F | SM0103 | M
        2026-09-04 | Truro | SM0104 | F |  |  |  |
        """,
        """
        row | part | tagCode | sex    | eventDate  | municipality
        2   | 1    | SM0101  | male   | 2026-09-03 | Truro
        2   | 2    | SM0102  | female | 2026-09-03 | Truro
        2   | 3    | SM0103  | male   | 2026-09-03 | Truro
        3   | 1    | SM0104  | female | 2026-09-04 | Truro
        """,
    ),
    "tags in numbered columns, nothing else repeated": Mess(
        """
        Date | Town | tag1 | tag2 | tag3
        2026-09-03 | Truro | SM0101 | SM0102 | SM0103
        """,
        """
        row | part | tagCode | eventDate
        2   | 1    | SM0101  | 2026-09-03
        2   | 2    | SM0102  | 2026-09-03
        2   | 3    | SM0103  | 2026-09-03
        """,
    ),
    "the same two columns again and again": Mess(
        """
        Date | Town | Tag | Sex | Tag | Sex
        2026-09-03 | Truro | SM0101 | M | SM0102 | F
        """,
        """
        row | part | tagCode | sex    | municipality
        2   | 1    | SM0101  | male   | Truro
        2   | 2    | SM0102  | female | Truro
        """,
    ),
}

AMONG = {
    "totals, notes and headings said again": Mess(
        """
        Tag | Date | Town
        SM0101 | 2026-09-03 | Truro
        Total | 1 |
        Tag | Date | Town
        SM0102 | 2026-09-04 | Truro
        * the second one was very fresh and flew off at once | |
        """,
        """
        row | tagCode
        2   | SM0101
        5   | SM0102
        """,
        "3 total, 4 repeated heading, 6 note",
    ),
    "rows that name the place of those below": Mess(
        """
        Tag | Date | Sex
        begin Mill Lane | |
        SM0101 | 2026-09-03 | M
        SM0102 | 2026-09-03 | F
        begin Ferry Road | |
        SM0103 | 2026-09-04 | F
        """,
        """
        row | tagCode | locality
        3   | SM0101  | Mill Lane
        4   | SM0102  | Mill Lane
        6   | SM0103  | Ferry Road
        """,
        "2 section heading, 5 section heading",
    ),
    "a long run of blank rows": Mess(
        "Tag | Date | Town\n" + "SM0101 | 2026-09-03 | Truro\n" + "\n" * 40 + "SM0102 | 2026-09-04 | Truro",
        """
        row | tagCode
        2   | SM0101
        43  | SM0102
        """,
    ),
    "ditto marks": Mess(
        """
        Tag | Date | Town | Observer
        SM0101 | 3/9/2026 | Truro | Ines
        SM0102 | " | " | do.
        SM0103 | 14/9/2026 | same as above | 〃
        SM0104 | idem | '' | igual
        """,
        """
        row | tagCode | eventDate  | municipality | recordedBy
        2   | SM0101  | 2026-09-03 | Truro        | Ines
        3   | SM0102  | 2026-09-03 | Truro        | Ines
        4   | SM0103  | 2026-09-14 | Truro        | Ines
        5   | SM0104  | 2026-09-14 | Truro        | Ines
        """,
    ),
    "a ditto mark in the tag's column stays as typed": Mess(
        """
        Tag | Date | Town
        SM0101 | 2026-09-03 | Truro
        " | 2026-09-03 | Truro
        """,
        """
        row | tagCode
        2   | SM0101
        3   | "
        """,
    ),
    "a ditto mark with nothing above stays as typed": Mess(
        """
        Tag | Date | Town
        SM0101 | 2026-09-03 | "
        SM0102 | 2026-09-03 | Truro
        """,
        """
        row | tagCode | municipality
        2   | SM0101  | "
        3   | SM0102  | Truro
        """,
    ),
    "cells merged over rows": Mess(
        """
        Date | Town | Tag | Sex
        2026-09-03 | Truro | SM0101 | M
         |  | SM0102 | F
         |  | SM0103 | M
        """,
        """
        row | tagCode | eventDate  | municipality
        2   | SM0101  | 2026-09-03 | Truro
        3   | SM0102  | 2026-09-03 | Truro
        4   | SM0103  | 2026-09-03 |
        """,
        merged=((2, 0, 4, 0), (2, 1, 3, 1)),
    ),
    "day and town only in the first row of each visit": Mess(
        """
        Date | Town | Tag | Sex
        2026-09-03 | Truro | SM0101 | M
         |  | SM0102 | F
         |  | SM0103 | M
        2026-09-05 | Amherst | SM0104 | F
         |  | SM0105 | F
        """,
        """
        row | tagCode | eventDate  | municipality
        2   | SM0101  | 2026-09-03 | Truro
        3   | SM0102  | 2026-09-03 | Truro
        4   | SM0103  | 2026-09-03 | Truro
        5   | SM0104  | 2026-09-05 | Amherst
        6   | SM0105  | 2026-09-05 | Amherst
        """,
    ),
    "blanks here and there are not filled": Mess(
        """
        Date | Town | Tag | Sex
        2026-09-03 | Truro | SM0101 | M
         | Truro | SM0102 | F
        2026-09-04 | Truro | SM0103 | M
        2026-09-05 |  | SM0104 | F
        """,
        """
        row | tagCode | eventDate  | municipality
        2   | SM0101  | 2026-09-03 | Truro
        3   | SM0102  |            | Truro
        4   | SM0103  | 2026-09-04 | Truro
        5   | SM0104  | 2026-09-05 |
        """,
    ),
    "one column alone with blanks is not filled": Mess(
        """
        Date | Town | Tag
        2026-09-03 | Truro | SM0101
         | Truro | SM0102
         | Truro | SM0103
        """,
        """
        row | tagCode | eventDate
        2   | SM0101  | 2026-09-03
        3   | SM0102  |
        4   | SM0103  |
        """,
    ),
    "a tab of a month with bare numbers of days": Mess(
        """
        Day | Tag | Town
        3 | SM0101 | Truro
        14 | SM0102 | Truro
        """,
        """
        row | tagCode | eventDate
        2   | SM0101  | 2026-09-03
        3   | SM0102  | 2026-09-14
        """,
        name="Sept 2026",
    ),
    "a tab of a month in figures, days under a heading for dates": Mess(
        """
        Date | Tag | Town
        3 | SM0101 | Truro
        """,
        """
        row | tagCode | eventDate
        2   | SM0101  | 2026-08-03
        """,
        name="2026-08",
    ),
    "whole dates on a tab of a month stay as they are": Mess(
        """
        Date | Tag | Town
        2026-09-03 | SM0101 | Truro
        """,
        """
        row | tagCode | eventDate
        2   | SM0101  | 2026-09-03
        """,
        name="août",
    ),
}

NO_TABLE = {
    "a dictionary": Mess(
        """
        Column | Meaning
        Tag | the code on the wing
        Date | the day on which it was let go
        Sex | M or F
        """,
        "row",
    ),
    "a legend": Mess(
        """
        Legend
        M = male
        F = female
        """,
        "row",
    ),
    "a form that nobody filled in": Mess("Tag | Date | Sex | Town", "row"),
}

CASES = {**ABOVE, **HEADINGS, **TABLES, **AMONG, **NO_TABLE}


@pytest.mark.parametrize("mess", CASES.values(), ids=CASES)
def test_a_sheet_gives_exactly_its_records(mess: Mess) -> None:
    assert records_of(mess) == cells_of(mess.records)


@pytest.mark.parametrize(
    "mess", [mess for mess in CASES.values() if mess.left_out], ids=[n for n, m in CASES.items() if m.left_out]
)
def test_every_row_left_out_has_its_reason(mess: Mess) -> None:
    told = {f"{row} {reason}" for table in tables_of(mess) for row, reason in table.left_out.items()}
    assert told == set(mess.left_out.split(", "))


def test_a_month_without_a_year_on_the_tab_is_asked_about() -> None:
    mess = Mess("Day | Tag | Town\n3 | SM0101 | Truro\n14 | SM0102 | Truro", "", name="septembre")
    rows = rows_of(tables_of(mess))
    assert rows["eventDate_doubt"].tolist() == ["no-year", "no-year"]
    assert rows["eventDate_candidates"].tolist() == ["2026-09-03", "2026-09-14"]


def test_a_value_from_the_row_above_is_listed_as_a_change() -> None:
    changes = normalise(gather(tables_of(AMONG["ditto marks"])), lists(), Settings()).changes
    told = set(
        changes[changes["field"] == "municipality"][["seen", "became", "why"]].itertuples(index=False, name=None)
    )
    assert told == {(mark, "Truro", "as in the row above") for mark in ('"', "same as above", "''")}
    merged = normalise(gather(tables_of(AMONG["cells merged over rows"])), lists(), Settings()).changes
    assert merged[merged["why"] == "one cell over several rows"]["became"].tolist() == [
        "2026-09-03",
        "2026-09-03",
        "Truro",
    ]


SIX = "\n".join(f"SM010{number} | 2026-09-0{number} | Truro | M" for number in range(1, 7))
SHIFTED = [
    ("pushed to the right", " | SM0107 | 2026-09-07 | Truro | M", ["right"]),
    ("pushed to the right by a name in the code's column", "Ines | SM0107 | 2026-09-07 | Truro | M", ["right"]),
    ("a code missing", " | 2026-09-07 | Truro | M", [""]),
    ("a code of another shape", "sm7 | 2026-09-07 | Truro | M", [""]),
    ("a day missing", "SM0107 | | Truro | M", [""]),
    ("a remark in the day's column", "SM0107 | in the rain | Truro | M", [""]),
]


@pytest.mark.parametrize(("line", "side"), [case[1:] for case in SHIFTED], ids=[case[0] for case in SHIFTED])
def test_a_row_pushed_to_one_side_is_noticed(line: str, side: list[str]) -> None:
    rows = rows_of(tables_of(Mess(f"Tag | Date | Town | Sex\n{SIX}\n{line}", "")))
    assert rows.loc[rows["row"] == 8, "row_shift"].tolist() == side and not rows.loc[rows["row"] < 8, "row_shift"].any()


def test_codes_and_days_elsewhere_in_most_rows_are_no_shift() -> None:
    lines = "\n".join(f" | SM010{number} | 2026-09-0{number} | Truro" for number in range(1, 8))
    assert not rows_of(tables_of(Mess(f"Tag | Date | Town | Sex\n{lines}", "")))["row_shift"].any()


def test_hidden_and_struck_rows_are_records_that_say_so() -> None:
    sheet = replace(sheet_of(Mess(f"Tag | Date | Town | Sex\n{SIX}", "")), hidden_rows=frozenset({3}))
    sheet = replace(sheet, struck_rows=frozenset({4}), hidden_columns=frozenset({2}))
    tables = map_headings(sheet, heading_names())
    rows = rows_of(tables)
    assert rows.loc[rows["row_is_hidden"], "row"].tolist() == [3]
    assert rows.loc[rows["row_is_struck"], "row"].tolist() == [4] and len(rows) == 6
    headings = describe_headings(tables, lists().fields, True)
    assert headings.loc[headings["is_hidden"], "heading"].tolist() == ["Town"]
