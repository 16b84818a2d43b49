"""seen-by.html tells what the finished files hold of people: what is planted is found, and nothing else is said."""

from __future__ import annotations

import re
import zipfile
from collections.abc import Callable
from html import unescape
from pathlib import Path

import pyarrow as pa
import pytest
from xlsxwriter import Workbook

from pipeline.files.gate_client import Gate
from pipeline.files.seen_by_looking import (
    ADDRESS,
    CHILD,
    NAME,
    POINT,
    found_in_text,
    known_of,
)
from pipeline.files.seen_by_reading import parts_of
from pipeline.files.seen_by_tables import MORE, NEAR_HOME, THOUGH_ROUNDED, found_in_table
from pipeline.flow import Outcome, run
from tests.season_folder import PEOPLE, TODAY, clean_rows, make_folder, write_sheet

Run = Callable[[Path], Outcome]
KNOWN = known_of(["Ines Melanson", "Rémi Doucet", "Tess Okpara"], ["urn:uuid:child"], [(45.9, -64.37)])


@pytest.fixture
def go(gate: Gate) -> Run:
    return lambda folder: run(folder, TODAY, lambda: gate)


def season(folder: Path, people: str = PEOPLE) -> Path:
    make_folder(folder, people=people)
    write_sheet(folder / "inbox" / "p1" / "mine.csv", clean_rows(1, 5))
    headings = ["Tag", "Date", "Sex", "Latitude", "Longitude"]
    write_sheet(
        folder / "inbox" / "p2" / "fiche.csv", [["AB0031", "2026-09-04", "male", "45.9003", "-64.3701"]], headings
    )
    write_sheet(
        folder / "inbox" / "p3" / "tess.csv", [["AB0061", "2026-09-05", "male", "45.0771", "-64.4962"]], headings
    )
    found = [["AB0001", "2026-10-12", "19.6001", "-100.2402", "Rosa Pineda", "rosa@example.org"]]
    write_sheet(folder / "inbox" / "finds" / "found.csv", found, [*headings[:2], *headings[3:], "Found by", "Contact"])
    return folder


def page(folder: Path) -> str:
    return (folder / "outbox" / "coordinator" / "seen-by.html").read_text(encoding="utf-8")


def told(folder: Path, name: str) -> str:
    """What the page says of one folder or file, as text."""
    section = re.search(rf'<section [^>]*aria-label="{re.escape(name)}">(.*?)</section>', page(folder), re.DOTALL)
    assert section, name
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", section[1])).split())


def test_every_file_that_may_go_out_is_told_of(tmp_path: Path, go: Run) -> None:
    folder = season(tmp_path)
    go(folder)
    for kind in ("portal", "volunteers", "finders"):
        for path in (folder / "outbox" / kind).rglob("*.*"):
            if path.is_file():
                unit = path.relative_to(folder / "outbox").parts[:2]
                assert path.name in told(folder, "/".join(unit)), path
    for member in ("meta.xml", "eml.xml", "occurrence.csv"):
        assert f"archive.zip, {member}" in told(folder, "portal/archive.zip")


def test_a_season_as_it_should_be_holds_nothing_of_somebody_else(tmp_path: Path, go: Run) -> None:
    folder = season(tmp_path)
    go(folder)
    assert "Nothing of somebody else stands in any of them." in page(folder) and "SOMEBODY" not in page(folder)
    batch = told(folder, "portal/2026-0001")
    assert "Ines Melanson (5 times) published with consent" in batch
    assert "withdrawn.csv: no name, no address, no exact point, no child's record." in batch
    assert "AB0061, participant, 45.08, -64.50, coordinates rounded to the nearest 0.01 degree as published" in batch
    assert "Rémi" not in batch and "45.0771" not in batch
    assert "rows of a child, for the guardian the reader's own" in told(folder, "volunteers/p3")
    (finder,) = (folder / "outbox" / "finders").iterdir()
    assert "rosa@example.org" in told(folder, f"finders/{finder.name}")


PLANTED = {
    "a name in another letter": ("volunteers/p1/letter.txt", "Rémi DOUCET sent the same", "Rémi Doucet"),
    "an address in another letter": ("volunteers/p1/letter.html", "<p>remi@example.org</p>", "remi@example.org"),
    "a link in another letter": (
        "volunteers/p2/letter.html",
        '<a href="mailto:ada@example.org">?</a>',
        "ada@example.org",
    ),
    "a finder's name in a tagger's letter": ("volunteers/p1/letter.txt", "found by Rosa Pineda", "Rosa Pineda"),
    "a tagger's street in a finder's letter": ("finders/*/letter.txt", "released at 12 Marsh Lane", "12 Marsh Lane"),
    "a telephone": ("volunteers/p1/letter.txt", "call 506 555 0142", "506 555 0142"),
    "a postcode": ("volunteers/p1/letter.txt", "E4L 1A1", "E4L 1A1"),
    "a name at the portal": ("portal/2026-0001/withdrawn.csv", "x,Tess Okpara asked,2026-10-20\n", "Tess Okpara"),
}


@pytest.mark.parametrize("name", PLANTED)
def test_what_is_planted_in_a_finished_file_is_found(name: str, tmp_path: Path, go: Run) -> None:
    where, text, shown = PLANTED[name]
    folder = season(tmp_path)
    go(folder)
    (path,) = (folder / "outbox").glob(where)
    path.write_text(path.read_text(encoding="utf-8") + text, encoding="utf-8")
    look_again(folder)
    unit = "/".join(path.relative_to(folder / "outbox").parts[:2])
    assert shown in told(folder, unit) and "SOMEBODY ELSE'S" in told(folder, unit)
    assert "1 of " in page(folder) and "look for SOMEBODY ELSE'S below" in page(folder)


def look_again(folder: Path) -> None:
    """As the end of a run does, with the files as they lie now."""
    import sqlite3

    from pipeline.files.programme import read_programme
    from pipeline.files.seen_by import write_seen_by

    ledger = sqlite3.connect(folder / "programme" / "ledger.sqlite")
    write_seen_by(folder / "outbox", read_programme(folder), ledger)
    ledger.close()


def test_a_name_of_one_word_at_the_end_of_a_text_is_counted_once() -> None:
    known = known_of(["Inès", "Inès Melanson"], [], [])
    assert found_in_text("Found by Ines", known) == {(NAME, "Inès"): 1}
    assert found_in_text("Ines Melanson wrote to Ines", known) == {(NAME, "Inès Melanson"): 1, (NAME, "Inès"): 2}


def test_a_folder_that_is_as_it_was_is_not_read_again(tmp_path: Path, go: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    folder = season(tmp_path)
    go(folder)
    before, read = page(folder), []
    monkeypatch.setattr("pipeline.files.seen_by.parts_of", lambda path: read.append(path) or parts_of(path))
    look_again(folder)
    assert page(folder) == before and read == []
    letter = folder / "outbox" / "volunteers" / "p1" / "letter.txt"
    letter.write_text(letter.read_text() + "\n")
    look_again(folder)
    assert {path.parent.name for path in read} == {"p1"}


def test_the_page_is_the_same_whether_it_is_made_anew_or_not(tmp_path: Path, go: Run) -> None:
    folder = season(tmp_path)
    go(folder)
    before = page(folder)
    (folder / "outbox" / "coordinator" / "seen-by.html").unlink()
    look_again(folder)
    assert page(folder) == before


def test_names_on_the_page_are_escaped(tmp_path: Path, go: Run) -> None:
    folder = season(tmp_path, PEOPLE.replace("Ines Melanson", "Ines <b>Melanson</b>"))
    go(folder)
    assert "<b>" not in page(folder)


TEXTS = {
    "a name": ("we thank Ines Melanson", (NAME, "Ines Melanson")),
    "a name without its accents": ("REMI DOUCET", (NAME, "Rémi Doucet")),
    "a name over two lines": ("Tess\n Okpara", (NAME, "Tess Okpara")),
    "a mail address": ("to a.b+c@mail.example.org.", (ADDRESS, "a.b+c@mail.example.org")),
    "a street": ("at 12b Elm Street", (ADDRESS, "12b Elm Street")),
    "a street in French": ("au 4, rue des Érables", (ADDRESS, "4, rue des Érables")),
    "a street in Spanish": ("en calle Hidalgo 45", (ADDRESS, "calle Hidalgo 45")),
    "a postcode": ("Sackville E4L 1A1", (ADDRESS, "E4L 1A1")),
    "a telephone": ("+52 715 156 0012", (ADDRESS, "+52 715 156 0012")),
    "degrees": ("at 45.9003, here", (POINT, "45.9003")),
    "degrees with a comma": ("45,9003 N", (POINT, "45,9003")),
    "degrees and minutes": ("45°30'12", (POINT, "45°30'12")),
}
NOTHING = {
    "a part of a name": "Ines met the Doucets",
    "a word that begins like a name": "Inesita Melanson-Roy is no name of ours, Ines Melansons neither",
    "a tag": "SM0042 and 7E0012",
    "a Ref": "Ref K3H8M2Q",
    "a day": "2026-09-03 to 2026-11-10, 3/9/26",
    "a day and a time": "2026-09-03 10:28",
    "a rounded point": "45.90, -64.37",
    "an id": "urn:uuid:0045f387-f959-5568-a7fe-46082275a51c",
    "the id of a mail": "Message-ID: <8fd92bf2e1011d11@tagsheaf.invalid>",
    "a number of metres": "radius 1234.5 m",
    "more than degrees": "1234.5678",
}


@pytest.mark.parametrize("name", TEXTS)
def test_a_text_is_looked_through(name: str) -> None:
    text, found = TEXTS[name]
    assert found in found_in_text(text, KNOWN)


@pytest.mark.parametrize("name", NOTHING)
def test_what_tells_of_nobody_is_left_alone(name: str) -> None:
    assert not found_in_text(NOTHING[name], KNOWN)


def looked_at(**columns: list[str]) -> dict[tuple[str, str], int]:
    coded = {name: pa.array(cells).dictionary_encode() for name, cells in columns.items()}
    return dict(found_in_table([pa.RecordBatch.from_pydict(coded)], KNOWN))


def test_points_of_a_table_are_told_if_fine_and_whole() -> None:
    told = looked_at(
        decimalLatitude=["46.1056", "45.90", "45.9003", "45.08"],
        decimalLongitude=["-64.7940", "-64.37", "-64.3701", "-64.50"],
        dataGeneralizations=["", "", "", "rounded"],
        verbatimLatitude=["46.1056", "", "", "45.0771"],
        coordinatePrecision=["0.0001", "0.01", "0.0001", "0.01"],  # how fine a point is, and no point
    )
    assert told == {
        (POINT, "46.1056, -64.7940"): 1,
        (POINT, f"45.9003, -64.3701 {NEAR_HOME}"): 1,
        (POINT, f"45.0771 {THOUGH_ROUNDED}"): 1,
    }


def test_many_points_are_counted_and_some_told() -> None:
    latitudes = [f"46.{place:04d}" for place in range(500)]
    told = looked_at(decimalLatitude=latitudes, decimalLongitude=["-64.1234"] * 500)
    assert sum(told.values()) == 500 and told[POINT, MORE] == 490 and len(told) == 11


def test_a_childs_record_is_shown_as_its_reader_sees_it() -> None:
    told = looked_at(occurrenceID=["urn:uuid:child", "urn:uuid:other"], recordedBy=["participant", "participant"],
                     municipality=["Amherst", "Sackville"])  # fmt: skip
    assert told == {(CHILD, "participant, Amherst"): 1}


def test_whoever_stands_as_recorder_is_a_name_known_or_not() -> None:
    assert looked_at(recordedBy=["participant", "Zoë Unheard-of"]) == {(NAME, "Zoë Unheard-of"): 1}


def test_every_corner_of_a_workbook_is_read(tmp_path: Path) -> None:
    with Workbook(tmp_path / "q.xlsx") as book:
        book.set_properties({"author": "Maud Maker"})
        sheet, hidden = book.add_worksheet("Seen"), book.add_worksheet("Unseen")
        sheet.write_string("A1", "in a cell")
        sheet.write_number("A2", 45.9003)
        sheet.write_comment("A1", "in a comment")
        sheet.data_validation("B1", {"validate": "list", "source": ["in a pick list", "x"]})
        hidden.write_string("Z99", "in a hidden sheet")
        hidden.hide()
    (part,) = parts_of(tmp_path / "q.xlsx")
    for text in ("Maud Maker", "in a cell", "45.9003", "in a comment", "in a pick list", "in a hidden sheet"):
        assert text in part.text, text


def test_an_archive_is_read_member_by_member_and_its_comment_too(tmp_path: Path) -> None:
    with zipfile.ZipFile(tmp_path / "a.zip", "w") as archive:
        archive.comment = b"by Ines Melanson"
        archive.writestr("eml.xml", "<title>of Rémi Doucet &amp; friends</title>")
        archive.writestr("notes.csv", "occurrenceID,locality\nx,chez Tess Okpara\n")
    found = {}
    for part in parts_of(tmp_path / "a.zip"):
        found[part.name] = set(found_in_table(part.table, KNOWN) if part.table else found_in_text(part.text, KNOWN))
    assert found == {
        "a.zip, comment": {(NAME, "Ines Melanson")}, "a.zip, eml.xml": {(NAME, "Rémi Doucet")},
        "a.zip, notes.csv": {(NAME, "Tess Okpara")},
    }  # fmt: skip
