"""Whose sheet it is: a folder, a name on the sheet, the tags."""

from __future__ import annotations

import pandas as pd
import pytest

from pipeline.stages.senders import by_allotment, by_folder, by_name

PEOPLE = {"p1": "p1", "p03": "P03"}
NAMES = {"ines melanson": "p1", "remi doucet": "p2"}

FOLDERS = [
    ("a folder", "p1/sheet.xlsx", "p1"),
    ("a folder in capitals", "P1/sheet.xlsx", "p1"),
    ("an id in capitals", "p03/sheet.xlsx", "P03"),
    ("a folder farther down", "2026/late/p1/new/sheet.xlsx", "p1"),
    ("the first of two", "p03/p1/sheet.xlsx", "P03"),
    ("only the file's name", "p1.xlsx", ""),
    ("a part of a folder's name", "p1 late/sheet.xlsx", ""),
    ("no folder", "sheet.xlsx", ""),
]


@pytest.mark.parametrize(("file", "person"), [case[1:] for case in FOLDERS], ids=[case[0] for case in FOLDERS])
def test_a_folder_says_who_sent_the_sheet(file: str, person: str) -> None:
    assert by_folder(file, PEOPLE) == person


ON_SHEET = [
    ("one name", ["Ines Melanson"], "p1"),
    ("with other accents and blanks", ["  RÉMI   doucet "], "p2"),
    ("beside a name that is not on file", ["Ines Melanson", "Grandma"], "p1"),
    ("two people", ["Ines Melanson", "Rémi Doucet"], ""),
    ("nobody", ["", "Grandma"], ""),
    ("nothing", [], ""),
]


@pytest.mark.parametrize(("names", "person"), [case[1:] for case in ON_SHEET], ids=[case[0] for case in ON_SHEET])
def test_one_name_on_the_sheet_says_who_sent_it(names: list[str], person: str) -> None:
    assert by_name(names, NAMES) == person


def rows(*lines: tuple[str, str, str, str]) -> pd.DataFrame:
    return pd.DataFrame(list(lines), columns=["file_sha256", "recordKind", "tagCode", "tag_person_id"], dtype="str")


def of_tags(*people: str, kind: str = "release") -> pd.DataFrame:
    """A file with a row for each tag, each handed to this person ("" to nobody)."""
    return rows(*(("5a", kind, f"SM{i:04d}", person) for i, person in enumerate(people)))


ALLOTTED = [
    ("all of one", of_tags("p1", "p1"), "p1"),
    ("most of one", of_tags("p1", "p1", "p2"), "p1"),
    ("half of one, the others nobody's", of_tags("p1", "", "p1", ""), "p1"),
    ("under half", of_tags("p1", "", ""), ""),
    ("as many of two", of_tags("p2", "p1", "p2", "p1"), ""),
    ("as many of two, a third less", of_tags("p2", "p2", "p1", "p1", "p3"), ""),
    ("nobody's", of_tags("", ""), ""),
    ("finds", of_tags("p1", "p1", kind="find"), ""),
    ("no codes", rows(("5a", "release", "", "")), ""),
    ("no rows", rows(), ""),
]


@pytest.mark.parametrize(("lines", "person"), [case[1:] for case in ALLOTTED], ids=[case[0] for case in ALLOTTED])
def test_the_tags_of_its_releases_say_whose_a_sheet_is(lines: pd.DataFrame, person: str) -> None:
    assert by_allotment(lines).to_dict() == ({"5a": person} if person else {})


def test_every_file_is_looked_at_by_itself() -> None:
    other = of_tags("p2", "p2").assign(file_sha256="5b")
    assert by_allotment(pd.concat([of_tags("p1", ""), other])).to_dict() == {"5a": "p1", "5b": "p2"}
