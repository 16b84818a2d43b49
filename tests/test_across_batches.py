"""A portal that takes one batch after the other and one that takes the whole archive end with the same records."""

from __future__ import annotations

import random
from collections.abc import Callable
from datetime import timedelta
from pathlib import Path

import pandas as pd
import pytest

from pipeline.cli import main
from pipeline.files.gate_client import Gate
from pipeline.flow import Outcome, run
from tests.read_archive import applied, read_archive, read_batch
from tests.season_folder import TODAY, clean_rows, make_folder, read_table, rows, write_sheet

Run = Callable[[Path, int], Outcome]
TABLES = {
    "Occurrence": "occurrence", "MeasurementOrFact": "measurementOrFact",
    "ResourceRelationship": "resourceRelationship",
}  # fmt: skip


@pytest.fixture
def go(gate: Gate) -> Run:
    return lambda folder, day: run(folder, TODAY + timedelta(days=day), lambda: gate)


def portal(folder: Path) -> Path:
    return folder / "outbox" / "portal"


def batches(folder: Path) -> list[Path]:
    return sorted(path for path in portal(folder).iterdir() if path.is_dir())


def whole(folder: Path) -> pd.DataFrame:
    return read_archive(portal(folder) / "archive.zip")["Occurrence"].set_index("id")


def held_against_each_other(folder: Path) -> None:
    """Row by row and field by field: the archive, and all batches applied in order; and the ledger's clear rows."""
    told, one_by_one = read_archive(portal(folder) / "archive.zip"), applied(portal(folder))
    for name, own in TABLES.items():
        left = (
            told[name].drop(columns=["id"])
            if name == "Occurrence"
            else told[name].rename(columns={"id": "occurrenceID"})
        )
        right = one_by_one[own]
        assert len(left) == len(right), name
        if len(right):
            columns = list(right.columns)
            ordered = [table[columns].sort_values(columns).reset_index(drop=True) for table in (left, right)]
            pd.testing.assert_frame_equal(*[table.astype("object") for table in ordered])
    clear = {line["occurrence_id"] for line in rows(folder) if line["state"] == "clear" and line["occurrence_id"]}
    assert set(told["Occurrence"]["id"]) == clear, "what the ledger calls clear is what the portal has"


def test_new_changed_withdrawn_and_come_back(tmp_path: Path, go: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    folder = make_folder(tmp_path)
    monkeypatch.chdir(folder)
    mine = folder / "inbox" / "p1" / "mine.csv"
    lines = clean_rows(1, 12)
    write_sheet(mine, lines)
    write_sheet(folder / "inbox" / "finds" / "found.csv", [["AB0003", "2026-10-12", "", "Angangueo", "Michoacán", ""]])
    go(folder, 0)
    held_against_each_other(folder)
    first = whole(folder)
    assert set(first["modified"]) == {TODAY.isoformat()} and len(first) == 13
    by_tag = first.reset_index().set_index("organismName")["id"]

    lines[4][2] = "female" if lines[4][2] == "male" else "male"  # the same sheet comes again, one cell corrected
    write_sheet(mine, lines)
    go(folder, 1)
    held_against_each_other(folder)
    second = whole(folder)
    corrected = by_tag["AB0005"]
    assert set(second.index) == set(first.index), "a corrected row keeps its id"
    assert second.loc[corrected, "modified"] == (TODAY + timedelta(days=1)).isoformat()
    others = second.drop(corrected)
    assert set(others["modified"]) == {TODAY.isoformat()}, "modified is the day of the record's own last change"
    changed = read_batch(batches(folder)[1], "changed.csv")
    assert changed.to_dict("records") == [
        {"occurrenceID": corrected, "batchBefore": "2026-0001", "modified": (TODAY + timedelta(days=1)).isoformat()}
    ]

    assert main(["withdraw", by_tag["AB0007"], "--because", "a test"]) == 0
    go(folder, 2)
    held_against_each_other(folder)
    assert by_tag["AB0007"] not in whole(folder).index
    gone = read_batch(batches(folder)[2], "withdrawn.csv")
    assert list(gone["occurrenceID"]) == [by_tag["AB0007"]] and list(gone["modified"]) == ["2026-10-22"]

    assert main(["undo"]) == 0
    go(folder, 3)
    held_against_each_other(folder)
    back = whole(folder)
    assert by_tag["AB0007"] in back.index, "it comes back under its id"
    assert list(read_batch(batches(folder)[3], "changed.csv")["batchBefore"]) == ["2026-0001"]
    assert len(back) == 13


def test_a_release_that_is_held_takes_the_link_of_its_find_along(tmp_path: Path, go: Run) -> None:
    folder = make_folder(tmp_path)
    write_sheet(folder / "inbox" / "p1" / "mine.csv", clean_rows(1, 12))
    write_sheet(folder / "inbox" / "finds" / "found.csv", [["AB0003", "2026-10-12", "", "Angangueo", "Michoacán", ""]])
    go(folder, 0)
    assert len(read_archive(portal(folder) / "archive.zip")["ResourceRelationship"]) == 1
    write_sheet(folder / "inbox" / "p2" / "fiche.csv", [["AB0003", *clean_rows(31, 1)[0][1:]], *clean_rows(32, 5)])
    go(folder, 1)
    held_against_each_other(folder)
    told = read_archive(portal(folder) / "archive.zip")
    ids = set(told["Occurrence"]["id"])
    assert set(told["ResourceRelationship"]["relatedResourceID"]) <= ids, "no link leads to a record that left"
    assert all(set(told[name]["id"]) <= ids for name in TABLES)


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_whatever_comes_in_whatever_order_both_portals_agree(seed: int, tmp_path: Path, go: Run) -> None:
    """Sheets grow, are corrected, shrink; days are wrong and put right; after every run both ways are compared."""
    chance = random.Random(seed)
    folder = make_folder(tmp_path)
    sheets = {"p1/a.csv": clean_rows(1, 9), "p2/b.csv": clean_rows(31, 9)}
    spare = clean_rows(12, 15)
    ever: dict[str, str] = {}
    for day in range(5):
        for name, lines in sheets.items():
            for line in lines:
                if chance.random() < 0.15:
                    line[5] = str(chance.randint(46, 55))
                if chance.random() < 0.08:
                    line[1] = chance.choice(["31/09/2026", "2026-09-14"])
            if name == "p1/a.csv" and spare and chance.random() < 0.6:
                lines.append(spare.pop(0))
            write_sheet(folder / "inbox" / name, lines)
        go(folder, day)
        if not batches(folder):
            continue
        held_against_each_other(folder)
        for record, tag in whole(folder)["organismName"].items():
            assert ever.setdefault(str(record), tag) == tag, "an id belongs to one butterfly for ever"
    named = {one for path in batches(folder) for one in read_batch(path, "withdrawn.csv")["occurrenceID"]}
    assert set(ever) - set(whole(folder).index) <= named, "no id leaves without a word"


def test_an_id_stands_once_in_a_batch_and_never_beside_its_own_withdrawal(tmp_path: Path, go: Run) -> None:
    folder = make_folder(tmp_path)
    write_sheet(folder / "inbox" / "p1" / "mine.csv", clean_rows(1, 12))
    go(folder, 0)
    write_sheet(folder / "inbox" / "p2" / "fiche.csv", [["AB0001", *clean_rows(31, 1)[0][1:]], *clean_rows(32, 5)])
    go(folder, 1)
    for path in batches(folder):
        ids = [line["occurrenceID"] for line in read_table(path / "occurrence.csv")]
        gone = [line["occurrenceID"] for line in read_table(path / "withdrawn.csv")]
        assert len(ids) == len(set(ids)) and not set(ids) & set(gone) and len(gone) == len(set(gone))
