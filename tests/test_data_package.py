"""The Data Package: tables that hold together, each described; marked as the draft that it is."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pandas as pd
import pytest

from pipeline.cli import main
from tests.read_archive import read_archive
from tests.season_folder import clean_rows, make_folder, write_sheet

TABLES = ["organism", "event", "occurrence", "occurrence-assertion", "resource-relationship"]


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    made = make_folder(tmp_path_factory.mktemp("season"))
    write_sheet(made / "inbox" / "p1" / "mine.csv", clean_rows(1, 12))
    lines = [["AB0001", "2026-10-12", "", "Angangueo", "Michoacán", "", "roadkill"]]
    write_sheet(made / "inbox" / "finds" / "found.csv", lines,
                ["Tag", "Date", "Sex", "Town", "Province", "Forewing mm", "Alive or dead"])  # fmt: skip
    assert main(["run", str(made), "--today", "2026-10-20", "--data-package"]) in (0, 1)
    return made


def package(folder: Path) -> Path:
    return folder / "outbox" / "portal" / "data-package"


def descriptor(folder: Path) -> dict[str, Any]:
    told: dict[str, Any] = json.loads((package(folder) / "datapackage.json").read_text(encoding="utf-8"))
    return told


def tables(folder: Path) -> dict[str, pd.DataFrame]:
    return {
        each["name"]: pd.read_csv(package(folder) / each["path"], dtype=str, keep_default_na=False)
        for each in descriptor(folder)["resources"]
    }


def test_the_descriptor_says_what_the_open_standard_asks(folder: Path) -> None:
    """Data Package 1: name, resources with name, path, profile, and a schema with a field for every column."""
    told = descriptor(folder)
    assert told["status"] == "draft" and told["description"].startswith("DRAFT")
    assert [each["name"] for each in told["resources"]] == TABLES
    for each in told["resources"]:
        assert each["profile"] == "tabular-data-resource" and each["mediatype"] == "text/csv"
        columns = list(tables(folder)[each["name"]].columns)
        assert [field["name"] for field in each["schema"]["fields"]] == columns
        wanted = {"name", "title", "description", "type", "dcterms:isVersionOf"}
        assert all(set(field) == wanted and all(field.values()) for field in each["schema"]["fields"])


def test_every_key_is_one_and_every_pointer_leads_somewhere(folder: Path) -> None:
    by_name = tables(folder)
    for each in descriptor(folder)["resources"]:
        keys = by_name[each["name"]][each["schema"]["primaryKey"]]
        assert keys.is_unique and (keys != "").all()
        for key in each["schema"].get("foreignKeys", ()):
            there = set(by_name[key["reference"]["resource"]][key["reference"]["fields"]]) | {""}
            assert set(by_name[each["name"]][key["fields"]]) <= there


def test_the_tables_put_together_are_the_archive(folder: Path) -> None:
    by_name = tables(folder)
    core = read_archive(folder / "outbox" / "portal" / "archive.zip")["Occurrence"].drop(columns="id")
    joined = by_name["occurrence"].merge(by_name["event"], on="eventID").merge(by_name["organism"], on="organismID")
    names = sorted(set(core.columns) - {"causeOfDeath"})
    left, right = (table[names].sort_values("occurrenceID").reset_index(drop=True) for table in (core, joined))
    pd.testing.assert_frame_equal(left.astype("object"), right.astype("object"))


def test_what_a_butterfly_died_of_stands_with_the_butterfly(folder: Path) -> None:
    told = tables(folder)["organism"].set_index("organismName")["causeOfDeath"]
    assert told["AB0001"] == "vehicle collision" and set(told.drop("AB0001")) == {""}


def test_the_package_is_the_same_when_it_is_written_again(folder: Path) -> None:
    before = {path.name: path.read_bytes() for path in package(folder).iterdir()}
    assert main(["run", str(folder), "--today", "2026-10-20", "--data-package"]) in (0, 1)
    assert {path.name: path.read_bytes() for path in package(folder).iterdir()} == before


def test_without_the_option_none_is_written(tmp_path: Path) -> None:
    made = make_folder(tmp_path)
    write_sheet(made / "inbox" / "p1" / "mine.csv", clean_rows(1, 3))
    main(["run", str(made), "--today", "2026-10-20"])
    assert not package(made).exists()


def test_a_dry_run_writes_none_and_nothing_published_makes_none(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    made = make_folder(tmp_path)
    main(["run", str(made), "--today", "2026-10-20", "--dry-run", "--data-package"])
    assert not package(made).exists()
    main(["run", str(made), "--today", "2026-10-20", "--data-package"])
    assert "nothing was published yet" in capsys.readouterr().err and not package(made).exists()
