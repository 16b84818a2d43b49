"""What no schema sees in an archive: each fault planted in a good one is told in plain words, and nothing else is."""

from __future__ import annotations

import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest

from pipeline.files.archive import write_archive
from pipeline.files.archive_check import faults
from pipeline.files.archive_tables import whole
from pipeline.files.eml import eml_xml
from pipeline.files.eml_coverage import coverage_of
from pipeline.settings import Settings, read_settings
from tests.published_ledger import ledger_with

A, B = (f"urn:uuid:00000000-0000-5000-8000-00000000000{digit}" for digit in "ab")
NAMED = read_settings('[programme]\nname = "Marsh Test Society"\ncontact = "desk@example.org"\n')


def good(path: Path, settings: Settings = NAMED) -> Path:
    tables = whole(ledger_with(path.parent, {A: {}, B: {"eventType": "Find"}}))
    write_archive(path, tables, eml_xml(settings, coverage_of(tables["occurrence"]), "2026-10-20"), "a mark")
    return path


def with_member(path: Path, name: str, becomes: Callable[[str], str | None]) -> Path:
    """The archive with one member rewritten, or without it."""
    with zipfile.ZipFile(path) as archive:
        members = {each: archive.read(each).decode() for each in archive.namelist()}
    told = becomes(members.get(name, ""))
    members = {each: text for each, text in members.items() if each != name} | (
        {name: told} if told is not None else {}
    )
    with zipfile.ZipFile(path, "w") as archive:
        for each, text in members.items():
            archive.writestr(each, text)
    return path


def test_a_good_archive_has_no_faults(tmp_path: Path) -> None:
    assert faults(good(tmp_path / "a.zip")) == []


LAST_FIELD = "</field>"
FAULTS: dict[str, tuple[str, Callable[[str], str | None], str]] = {
    "no descriptor": ("meta.xml", lambda _: None, "no meta.xml"),
    "a broken descriptor": ("meta.xml", lambda text: text[:200], "cannot be read"),
    "two cores": ("meta.xml", lambda text: text.replace("extension", "core"), "exactly one core"),
    "no id although there are extensions": (
        "meta.xml", lambda text: text.replace('<id index="0" />', ""), "which column of occurrence.csv names",
    ),
    "no coreid": (
        "meta.xml", lambda text: text.replace('<coreid index="0" />', "", 1), "which column of measurementOrFact.csv",
    ),
    "an index past the last column": (
        "meta.xml", lambda text: text.replace('index="57"', 'index="99"'), "occurrence.csv has",
    ),
    "a term that is none": (
        "meta.xml", lambda text: text.replace("terms/sex", "terms/gender"), "not on the list of terms",
    ),
    "a term twice": ("meta.xml", lambda text: text.replace("terms/sex", "terms/lifeStage"), "a term twice"),
    "another kind of row": ("meta.xml", lambda text: text.replace("terms/Occurrence", "terms/Taxon"), "kind of row"),
    "a header line not told of": (
        "meta.xml", lambda text: text.replace(' ignoreHeaderLines="1"', "", 1), "how occurrence.csv is written",
    ),
    "a file not told of": ("notes.csv", lambda _: "a,b\n", "notes.csv, of which meta.xml does not speak"),
    "a file missing": ("resourceRelationship.csv", lambda _: None, "not in the archive"),
    "an id twice": ("occurrence.csv", lambda text: text.replace(B, A), "an id on more than one line"),
    "a record without an id": ("occurrence.csv", lambda text: text.replace(f'"{B}"', '""'), "records without an id"),
    "a measure of no record": (
        "measurementOrFact.csv", lambda text: text.replace(f'"{A}",', '"urn:uuid:1",', 1), "whose record is not in",
    ),
    "a cell too many": ("occurrence.csv", lambda text: text.rstrip("\n") + ',"more"\n', "cannot be read"),
    "a null marker": ("occurrence.csv", lambda text: text.replace('"Release"', '"\\N"'), "say \\N for nothing"),
    "a heading that is another term": (
        "occurrence.csv", lambda text: text.replace("rightsHolder", "accessRights", 1), "not the name of its term",
    ),
    "no title": (
        "eml.xml", lambda text: text.replace("Marsh Test Society: butterflies tagged, released and found again", " "),
        "no title: fill in the settings",
    ),
    "no contact": ("eml.xml", lambda text: cut(text, "contact"), "no contact"),
    "no creator": ("eml.xml", lambda text: cut(text, "creator"), "no publisher"),
    "no licence": ("eml.xml", lambda text: cut(text, "intellectualRights"), "no licence"),
    "another language of description": (
        "eml.xml", lambda text: text.replace("eml-2.2.0", "eml-2.1.1"), "not a document of EML 2.2.0",
    ),
    "a reference to nothing": (
        "eml.xml", lambda text: text.replace("</dataset>", "<a><references>x</references></a></dataset>"), "refers to",
    ),
    "an id of the description twice": (
        "eml.xml", lambda text: text.replace("<creator>", '<creator id="x">').replace("<contact>", '<contact id="x">'),
        "has an id twice",
    ),
    "a box upside down": (
        "eml.xml", lambda text: text.replace("northBoundingCoordinate>46.1", "northBoundingCoordinate>1"), "not one",
    ),
}  # fmt: skip


def cut(text: str, name: str) -> str:
    before, _, rest = text.partition(f"<{name}>")
    return before + rest.partition(f"</{name}>")[2]


@pytest.mark.parametrize("name", FAULTS)
def test_a_planted_fault_is_told(name: str, tmp_path: Path) -> None:
    member, becomes, words = FAULTS[name]
    told = faults(with_member(good(tmp_path / "a.zip"), member, becomes))
    assert any(words in fault for fault in told), told


def test_a_file_that_is_no_archive_is_told(tmp_path: Path) -> None:
    path = tmp_path / "a.zip"
    path.write_bytes(b"nothing of the kind")
    assert faults(path)[0].startswith("The archive cannot be read")
