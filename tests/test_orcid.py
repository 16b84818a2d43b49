"""ORCIDs: read, checked, and published only beside a name that may go out."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from stdnum.iso7064 import mod_11_2

from pipeline.files.gate_client import Gate
from pipeline.flow import run
from pipeline.settings import SettingsWrong
from pipeline.values.orcid import orcid_address
from tests.season_folder import PEOPLE, TODAY, clean_rows, make_folder, read_table, write_sheet

GOOD = "0000-0002-1825-0097"  # an example of recordedByID in the list of terms of 2026-05-26
WRONG = "0000-0002-1825-0098"  # the second id of that list's own example: its check character does not fit
CASES = {
    "as printed": (GOOD, f"https://orcid.org/{GOOD}"),
    "as an address": (f"https://orcid.org/{GOOD}", f"https://orcid.org/{GOOD}"),
    "as an old address": (f"http://orcid.org/{GOOD}", f"https://orcid.org/{GOOD}"),
    "without hyphens": ("0000000218250097", f"https://orcid.org/{GOOD}"),
    "the standard's own slip": (WRONG, ""),
    "a check character X": ("0000-0002-9079-593X", "https://orcid.org/0000-0002-9079-593X"),
    "a small x": ("0000-0002-9079-593x", "https://orcid.org/0000-0002-9079-593X"),
    "two digits swapped": ("0000-0002-1852-0097", ""),
    "too short": ("0000-0002-1825-009", ""),
    "no ORCID": ("Anna", ""),
    "digits of another script": ("0000-0002-1825-009٧", ""),
    "nothing": ("", ""),
}


@pytest.mark.parametrize("name", CASES)
def test_an_orcid_is_read(name: str) -> None:
    written, address = CASES[name]
    assert orcid_address(written) == address


@given(st.from_regex(r"[0-9]{15}", fullmatch=True))
def test_the_check_character_is_that_of_another_library(digits: str) -> None:
    """python-stdnum's MOD 11-2 (LGPL, tests only)."""
    whole = digits + mod_11_2.calc_check_digit(digits)
    assert orcid_address(whole).replace("-", "") == f"https://orcid.org/{whole}"
    other = whole[:-1] + ("0" if whole[-1] != "0" else "1")
    assert orcid_address(other) == ""


def people(**orcids: str) -> str:
    lines = list(csv.DictReader(PEOPLE.splitlines()))
    names = [*lines[0], "orcid"]
    told = [",".join(names), *(",".join([*line.values(), orcids.get(line["person_id"], "")]) for line in lines)]
    return "\n".join(told) + "\n"


def test_an_orcid_goes_out_only_beside_a_name_that_may(tmp_path: Path, gate: Gate) -> None:
    folder = make_folder(tmp_path, people=people(p1=GOOD, p2="0000-0002-9079-593X", p3="0000-0001-5109-3700"))
    for person, first in (("p1", 1), ("p2", 31), ("p3", 61)):
        write_sheet(folder / "inbox" / person / "mine.csv", clean_rows(first, 3))
    run(folder, TODAY, lambda: gate)
    told = read_table(folder / "outbox" / "portal" / "2026-0001" / "occurrence.csv")
    pairs = {(line["recordedBy"], line["recordedByID"]) for line in told}
    assert pairs == {("Ines Melanson", f"https://orcid.org/{GOOD}"), ("participant", "")}


def test_an_orcid_that_does_not_fit_is_told_with_its_line(tmp_path: Path, gate: Gate) -> None:
    folder = make_folder(tmp_path, people=people(p2=WRONG))
    with pytest.raises(SettingsWrong, match=r"people\.csv line 3: '0000-0002-1825-0098' is not an ORCID"):
        run(folder, TODAY, lambda: gate)
