"""The archive, read back by a reader that shares no code with its writer; its bytes; when it is written again."""

from __future__ import annotations

import hashlib
import shutil
import sqlite3
import zipfile
from collections.abc import Callable
from datetime import timedelta
from pathlib import Path

import pandas as pd
import pytest
from lxml import etree

from pipeline.files.archive import archive_mark
from pipeline.files.gate_client import Gate
from pipeline.flow import Outcome, run
from tests.read_archive import TEXT, applied, read_archive
from tests.season_folder import HEADINGS, TODAY, clean_rows, make_folder, rows, write_sheet

Run = Callable[..., Outcome]
FIND = [["AB0001", "2026-10-12", "", "Angangueo", "Michoacán", ""]]


@pytest.fixture
def go(gate: Gate) -> Run:
    return lambda folder, days=0: run(folder, TODAY + timedelta(days=days), lambda: gate)


def archive(folder: Path) -> Path:
    return folder / "outbox" / "portal" / "archive.zip"


def with_a_find(folder: Path) -> Path:
    make_folder(folder)
    write_sheet(folder / "inbox" / "p1" / "mine.csv", clean_rows(1, 12))
    write_sheet(folder / "inbox" / "finds" / "found.csv", FIND)
    return folder


def same(left: pd.DataFrame, right: pd.DataFrame) -> bool:
    """Both hold the same lines, whatever their order."""
    names = sorted(left.columns)
    ordered = [one[names].sort_values(names).reset_index(drop=True).astype("object") for one in (left, right)]
    return sorted(right.columns) == names and ordered[0].equals(ordered[1])


def test_every_row_and_field_of_the_archive_is_as_it_was_published(tmp_path: Path, go: Run) -> None:
    folder = with_a_find(tmp_path)
    go(folder)
    told, batches = read_archive(archive(folder)), applied(folder / "outbox" / "portal")
    assert len(told["Occurrence"]) == 13 and len(told["MeasurementOrFact"]) and len(told["ResourceRelationship"]) == 1
    assert same(told["Occurrence"].drop(columns="id"), batches["occurrence"])
    for name, own in (("MeasurementOrFact", "measurementOrFact"), ("ResourceRelationship", "resourceRelationship")):
        assert same(told[name].rename(columns={"id": "occurrenceID"}), batches[own]), name


def test_the_ids_of_the_archive_are_those_of_the_clear_rows(tmp_path: Path, go: Run) -> None:
    folder = with_a_find(tmp_path)
    go(folder)
    published = {line["occurrence_id"] for line in rows(folder) if line["state"] == "clear"}
    assert set(read_archive(archive(folder))["Occurrence"]["id"]) == published


def test_members_are_sorted_and_bear_no_day_of_ours(tmp_path: Path, go: Run) -> None:
    folder = with_a_find(tmp_path)
    go(folder)
    with zipfile.ZipFile(archive(folder)) as opened:
        members = opened.infolist()
    assert [member.filename for member in members] == [
        "eml.xml", "measurementOrFact.csv", "meta.xml", "occurrence.csv", "resourceRelationship.csv",
    ]  # fmt: skip
    assert {member.date_time for member in members} == {(1980, 1, 1, 0, 0, 0)}
    assert {member.create_system for member in members} == {3}, "the same bytes on every system"


def test_the_descriptor_says_everything_that_the_guide_asks(tmp_path: Path, go: Run) -> None:
    """Darwin Core text guide, 2023-09-13: order of parts, kinds of rows, ids, a field for every column."""
    folder = with_a_find(tmp_path)
    go(folder)
    with zipfile.ZipFile(archive(folder)) as opened:
        root = etree.fromstring(opened.read("meta.xml"))
        headings = {name: opened.read(name).decode().split("\n", 1)[0].split(",") for name in opened.namelist()}
    assert root.tag == f"{TEXT}archive" and root.get("metadata") == "eml.xml"
    assert [part.tag for part in root] == [f"{TEXT}core", f"{TEXT}extension", f"{TEXT}extension"]
    for part in root:
        kinds = [each.tag.removeprefix(TEXT) for each in part]
        assert kinds[:2] == ["files", "id" if part.tag == f"{TEXT}core" else "coreid"] and set(kinds[2:]) == {"field"}
        assert part.get("rowType").startswith("http://rs.tdwg.org/dwc/terms/")
        how = [part.get(name) for name in ("encoding", "fieldsTerminatedBy", "linesTerminatedBy", "fieldsEnclosedBy")]
        assert how == ["UTF-8", ",", "\\n", '"'] and part.get("ignoreHeaderLines") == "1"
        file = part.findtext(f"{TEXT}files/{TEXT}location")
        named = {int(each.get("index")): each.get("term").rpartition("/")[2] for each in part.iter(f"{TEXT}field")}
        assert [named.get(at, "occurrenceID") for at in range(len(headings[file]))] == headings[file]


def test_the_records_stand_in_the_order_of_their_ids(tmp_path: Path, go: Run) -> None:
    folder = with_a_find(tmp_path)
    go(folder)
    for table in read_archive(archive(folder)).values():
        assert table["id"].is_monotonic_increasing


def test_the_same_inbox_gives_the_same_bytes(tmp_path: Path, go: Run) -> None:
    folders = [with_a_find(tmp_path / name) for name in ("one", "two")]
    for folder in folders:
        go(folder)
    assert archive(folders[0]).read_bytes() == archive(folders[1]).read_bytes()


def test_an_archive_that_is_as_it_should_be_is_left_alone(tmp_path: Path, go: Run) -> None:
    folder = with_a_find(tmp_path)
    go(folder)
    before = archive(folder).stat()
    outcome = go(folder, 3)
    after = archive(folder).stat()
    assert not outcome.is_unchanged, "another day: the outbox is written again"
    assert (after.st_ino, after.st_mtime_ns) == (before.st_ino, before.st_mtime_ns)


def test_a_lost_archive_is_written_again(tmp_path: Path, go: Run) -> None:
    folder = with_a_find(tmp_path)
    go(folder)
    before = archive(folder).read_bytes()
    archive(folder).unlink()
    go(folder)
    assert archive(folder).read_bytes() == before


def test_a_lost_outbox_comes_back_with_its_batches_byte_for_byte(tmp_path: Path, go: Run) -> None:
    folder = with_a_find(tmp_path)
    go(folder)
    write_sheet(folder / "inbox" / "p2" / "fiche.csv", clean_rows(31, 10))
    go(folder, 1)
    before = digests(folder / "outbox" / "portal")
    assert len(before) == 11
    shutil.rmtree(folder / "outbox")
    go(folder, 1)
    assert digests(folder / "outbox" / "portal") == before


def digests(folder: Path) -> dict[str, str]:
    return {
        path.relative_to(folder).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


def test_a_setting_that_the_description_tells_of_makes_a_new_archive(tmp_path: Path, go: Run) -> None:
    folder = with_a_find(tmp_path)
    go(folder)
    before, batches = archive_mark(archive(folder)), list((folder / "outbox" / "portal").glob("2026-*"))
    settings = folder / "programme" / "programme.toml"
    settings.write_text(settings.read_text().replace("coordinator@example.org", "desk@example.org"))
    go(folder)
    assert archive_mark(archive(folder)) != before
    assert b"desk@example.org" in zipfile.ZipFile(archive(folder)).read("eml.xml")
    assert list((folder / "outbox" / "portal").glob("2026-*")) == batches, "no record has changed"


def test_a_refused_batch_leaves_the_archive_as_it_was(tmp_path: Path, go: Run) -> None:
    folder = with_a_find(tmp_path)
    go(folder)
    published = read_archive(archive(folder))["Occurrence"]
    settings = folder / "programme" / "programme.toml"
    good = settings.read_text()
    settings.write_text(good.replace("rights_holder", 'licence = "ask Maud"\nrights_holder'))
    write_sheet(folder / "inbox" / "p2" / "fiche.csv", clean_rows(31, 10))
    assert go(folder, 1).exit_code == 3
    assert same(read_archive(archive(folder))["Occurrence"], published)
    settings.write_text(good)
    go(folder, 2)
    assert len(read_archive(archive(folder))["Occurrence"]) == 23


def test_nothing_published_makes_no_archive(tmp_path: Path, go: Run) -> None:
    folder = make_folder(tmp_path)
    write_sheet(folder / "inbox" / "p1" / "mine.csv", [["AB0001", "31/09/2026", "male", "Amherst", "", "51"]])
    go(folder)
    assert not archive(folder).exists()


def test_batches_of_an_older_ledger_are_taken_in_from_the_outbox(tmp_path: Path, go: Run) -> None:
    folder = with_a_find(tmp_path)
    go(folder)
    before = read_archive(archive(folder))["Occurrence"]
    forgets_its_batches(folder)
    write_sheet(folder / "inbox" / "p2" / "fiche.csv", clean_rows(31, 10))
    go(folder, 1)
    after = read_archive(archive(folder))["Occurrence"]
    assert set(after["id"]) > set(before["id"]) and len(after) == 23


def test_a_batch_that_nobody_has_any_more_is_named_and_no_archive_pretends_to_be_whole(tmp_path: Path, go: Run) -> None:
    folder = with_a_find(tmp_path)
    go(folder)
    before = archive(folder).read_bytes()
    forgets_its_batches(folder)
    shutil.rmtree(folder / "outbox" / "portal" / "2026-0001")
    write_sheet(folder / "inbox" / "p2" / "fiche.csv", clean_rows(31, 10))
    outcome = go(folder, 1)
    assert any("batch 2026-0001" in note and "put its folder back" in note for note in outcome.notes)
    assert archive(folder).read_bytes() == before


def forgets_its_batches(folder: Path) -> None:
    ledger = sqlite3.connect(folder / "programme" / "ledger.sqlite")
    ledger.execute("DELETE FROM published")
    ledger.commit()
    ledger.close()


def test_quotation_marks_commas_and_accents_survive(tmp_path: Path, go: Run) -> None:
    folder = make_folder(tmp_path)
    line = clean_rows(1, 1)[0]
    line[3] = 'Étang "du Nord", anse à l\'eau'
    write_sheet(
        folder / "inbox" / "p1" / "mine.csv", [line, *clean_rows(2, 4)], [*HEADINGS[:3], "Place", *HEADINGS[4:]]
    )
    go(folder)
    assert 'Étang "du Nord", anse à l\'eau' in set(read_archive(archive(folder))["Occurrence"]["verbatimLocality"])
