"""Towns without a point: where they lie, how far their names reach, and what is asked where we cannot tell."""

from __future__ import annotations

import math
from collections.abc import Callable
from pathlib import Path

import pandas as pd
import pytest
from example_tables import read_examples
from geographiclib.geodesic import Geodesic

from pipeline.cli import main
from pipeline.files.boundaries import ATLAS
from pipeline.files.gate_client import Gate
from pipeline.files.schemas import lists
from pipeline.files.sites import CLOSED, add_sites
from pipeline.files.towns import towns
from pipeline.flow import Outcome, run
from pipeline.settings import Settings, read_settings
from pipeline.stages.look_up_points import look_up_points
from pipeline.stages.look_up_towns import look_up_towns, own_places
from pipeline.values.site import site_point
from pipeline.values.towns import town_key
from tests.season_folder import TODAY, clean_rows, findings, make_folder, read_table, write_sheet

Go = Callable[..., Outcome]
SITES = pd.DataFrame(
    [("Heron Loop", 45.0650, -64.3905, 250.0, "yes"), ("Our Farm", 46.0102, -64.5602, 300.0, "no"),
     ("Lower Dyke", 45.8921, -64.3602, math.nan, "yes")],
    columns=["name", "latitude", "longitude", "uncertainty_m", "public"],
)  # fmt: skip

KEYS = [
    ("St. John's", "Saint John's"), ("Ste-Marie", "SAINTE MARIE"), ("Mt. Uniacke", "Mount Uniacke"),
    ("Québec", "Quebec City"), ("Ville de Québec", "québec"), ("City of Moncton", "moncton"),
    ("  Port   Elgin ", "port elgin"), ("D\u2019Escousse", "D'Escousse"),
]  # fmt: skip


@pytest.mark.parametrize(("one", "other"), KEYS, ids=[one for one, _ in KEYS])
def test_spellings_of_a_towns_name_meet(one: str, other: str) -> None:
    assert town_key(one) == town_key(other)


# Middles as Natural Resources Canada, the US Census and INEGI publish them, from memory, good to about 2 km.
MIDDLES = [
    ("Moncton", "CA-NB", 46.088, -64.778), ("Charlottetown", "CA-PE", 46.238, -63.131),
    ("Halifax", "CA-NS", 44.648, -63.575), ("Fredericton", "CA-NB", 45.964, -66.643),
    ("Rimouski", "CA-QC", 48.449, -68.524), ("Bangor", "US-ME", 44.801, -68.778),
    ("Angangueo", "MX-MIC", 19.621, -100.285),
]  # fmt: skip


@pytest.mark.parametrize(("name", "state", "north", "east"), MIDDLES, ids=[one[0] for one in MIDDLES])
def test_a_towns_middle_lies_where_it_is_published(name: str, state: str, north: float, east: float) -> None:
    (town,) = [one for one in towns(("CA", "US", "MX"), town_key(name)) if one.state == state]
    away = Geodesic.WGS84.Inverse(north, east, town.latitude, town.longitude)["s12"]
    assert away < min(4_000, town.metres) and town.country == state[:2]


def placed(*lines: dict[str, str], settings: str = "", **placed_by_answer: str) -> pd.DataFrame:
    names = list(dict.fromkeys(name for line in lines for name in line))
    text = [" | ".join(f'"{line.get(name, "")}"' for name in names) for line in lines]
    rows = read_examples("\n".join([" | ".join(names), *text]), "row")[0].cells
    told = read_settings(settings) if settings else Settings()
    rows = rows.assign(**look_up_points(rows, lists().datums, told))
    own = own_places(SITES, {name.replace("_", " "): point for name, point in placed_by_answer.items()})
    return rows.assign(**look_up_towns(rows, own, lists(), ATLAS, told))


FOUND = [
    ("a town", {"municipality": "Sackville"}, "Sackville", 1, "GeoNames (CC BY 4.0)"),
    ("of its province", {"municipality": "Windsor", "stateProvince": "Nova Scotia"}, "Windsor", 1,
     "GeoNames (CC BY 4.0)"),
    ("with its province behind a comma", {"municipality": "Windsor, NS"}, "Windsor, NS", 1, "GeoNames (CC BY 4.0)"),
    ("in the locality", {"locality": "Sackville"}, "Sackville", 1, "GeoNames (CC BY 4.0)"),
    ("of several provinces", {"municipality": "Windsor"}, "Windsor", 3, ""),
    ("not known", {"municipality": "Lower Nowhere"}, "Lower Nowhere", 0, ""),
    ("a locality that is no town", {"locality": "behind the barn"}, "", None, ""),
    ("in a province that has none", {"municipality": "Fredericton", "stateProvince": "Maine"}, "", None, ""),
    ("a place of our own", {"locality": "heron loop", "municipality": "Wolfville"}, "heron loop", 1,
     "the programme's own list of places"),
    ("a place of our own without extent", {"locality": "Lower Dyke"}, "Lower Dyke", 1,
     "the programme's own list of places"),
    ("an own place that stays private", {"locality": "Our Farm", "municipality": "Memramcook"}, "Memramcook", 1,
     "GeoNames (CC BY 4.0)"),
    ("with a point", {"municipality": "Sackville", "decimalLatitude": "45.9", "decimalLongitude": "-64.4"}, "", None,
     ""),
    ("with a point in doubt", {"municipality": "Sackville", "decimalLatitude": "45.9 or so"}, "", None, ""),
    ("no words", {"stateProvince": "New Brunswick"}, "", None, ""),
]  # fmt: skip


@pytest.mark.parametrize(
    ("line", "town", "number", "source"), [one[1:] for one in FOUND], ids=[one[0] for one in FOUND]
)
def test_a_town_is_looked_for_in_our_own_list_and_then_in_the_open_one(
    line: dict[str, str], town: str, number: int | None, source: str
) -> None:
    found = placed(line | {"recordKind": "release"}).iloc[0]
    assert (found["town"], found["town_source"]) == (town, source)
    assert (math.isnan(found["towns_found"]) and number is None) or found["towns_found"] == number
    has_place = source != "" or line.get("decimalLongitude")
    assert math.isnan(found["place_latitude"]) != bool(has_place)


def test_a_release_is_looked_for_where_releases_are_and_a_find_everywhere() -> None:
    release, find = (placed({"municipality": "Bangor", "recordKind": kind}).iloc[0] for kind in ("release", "find"))
    assert release["towns_found"] == 0 and find["towns_found"] > 1
    named = placed({"municipality": "Bangor", "countryCode": "US", "stateProvince": "Maine", "recordKind": "release"})
    assert named["towns_found"].tolist() == [1]


def test_of_several_towns_the_one_near_the_persons_other_places_is_meant() -> None:
    here = {"person_id": "p1", "decimalLatitude": "45.08", "decimalLongitude": "-64.36"}
    windsor = {"municipality": "Windsor", "recordKind": "release"}
    own, others = placed(here, windsor | {"person_id": "p1"}, windsor | {"person_id": "p2"}).iloc[1:].to_dict("records")
    assert own["towns_found"] == 1 and round(own["place_latitude"]) == 45
    assert others["towns_found"] == 3 and others["towns_named"] == "Nova Scotia, Ontario, Quebec"


def test_what_the_coordinator_answered_goes_before_the_open_list() -> None:
    rows = placed({"municipality": "lower nowhere"}, {"municipality": "Sackville"}, {"municipality": "Elsewhere"},
                  Lower_Nowhere="45.5 -64.5 3000", Sackville="45.9 -64.4", Elsewhere="")  # fmt: skip
    assert rows["place_latitude"].fillna(0).tolist() == [45.5, 45.9, 0]
    assert rows["place_metres"].fillna(0).tolist() == [3000, 1000, 0]
    assert rows["towns_found"].fillna(-1).tolist() == [1, 1, -1]  # nobody is asked about the third again


POINTS = [
    ("45.92, -64.35", "45.92 -64.35"), ("45.92 -64.35 (3 km)", "45.92 -64.35 3000"),
    ("45,92; -64,35; 500 m", "45.92 -64.35 500"),
    ("geo:45.92,-64.35", "45.92 -64.35"), ("20T 395000 5085000", None),
    ("45.92", ""), ("by the mill", ""), ("", ""), ("95.0, -64.35", ""), ("45.92, -64.35 m", ""),
]  # fmt: skip


@pytest.mark.parametrize(("text", "point"), POINTS, ids=[text or "nothing" for text, _ in POINTS])
def test_an_answer_that_places_a_town_is_read_like_any_position(text: str, point: str | None) -> None:
    assert site_point(text) == point if point is not None else site_point(text).startswith("45.9")


def test_sites_grow_by_a_line_for_each_town_and_keep_what_they_hold(tmp_path: Path) -> None:
    path = tmp_path / "sites.csv"
    placed_towns = {"Lower Nowhere": "45.5 -64.5 3000", "No Point": "", "Hunter River": "46.35 -63.35"}
    assert add_sites(path, placed_towns) == () and add_sites(path, placed_towns) == ()
    assert path.read_text(encoding="utf-8") == (
        "name,latitude,longitude,uncertainty_m,public\n"
        "Lower Nowhere,45.5,-64.5,3000,yes\nHunter River,46.35,-63.35,,yes\n"
    )
    path.write_text("name,latitude,longitude,uncertainty_m,public\nÉtang,46.4,-63.6,150,no", encoding="utf-8")
    add_sites(path, {"Lower Nowhere": "45.5 -64.5"})
    assert path.read_text(encoding="utf-8").splitlines()[1:] == [
        "Étang,46.4,-63.6,150,no",
        "Lower Nowhere,45.5,-64.5,,yes",
    ]


def test_a_list_of_places_that_cannot_be_written_is_said(tmp_path: Path) -> None:
    assert add_sites(tmp_path / "no folder" / "sites.csv", {"Lower Nowhere": "45.5 -64.5"}) == (CLOSED,)


@pytest.fixture
def go(gate: Gate) -> Go:
    return lambda folder: run(folder, TODAY, lambda: gate)


def asked_of_coordinator(folder: Path) -> list[dict[str, str]]:
    return [dict(line) for line in findings(folder) if line["rule"] == "town_not_known" and line["state"] == "open"]


def test_a_town_that_nobody_knows_is_one_question_whose_answer_holds_for_all(tmp_path: Path, go: Go) -> None:
    folder = make_folder(tmp_path / "season")
    for person, first in (("p1", 1), ("p2", 31)):
        sheet = [[*line[:3], "Lower Nowhere", "New Brunswick", line[5]] for line in clean_rows(first, 4)]
        write_sheet(folder / "inbox" / person / "tags.csv", sheet)
    outcome = go(folder)
    assert len(asked_of_coordinator(folder)) == 8 and outcome.figures.coordinator_questions == 1
    sent = read_table(folder / "outbox" / "portal" / "2026-0001" / "occurrence.csv")
    assert {line["decimalLatitude"] for line in sent} == {""}

    ref = ref_of_only_question(folder)
    assert main(["answer", ref, "by the old mill", "--because", "the map", "--folder", str(folder)]) == 1
    assert main(["answer", ref, "45.92, -64.35, 3 km", "--because", "the map", "--folder", str(folder)]) == 0
    go(folder)
    assert asked_of_coordinator(folder) == []
    again = read_table(folder / "outbox" / "portal" / "2026-0002" / "occurrence.csv")
    places = ("decimalLatitude", "decimalLongitude", "coordinateUncertaintyInMeters")
    assert [tuple(line[name] for name in places) for line in again] == [("45.9200", "-64.3500", "3000")] * 8
    assert "Lower Nowhere,45.92,-64.35,3000,yes" in (folder / "programme" / "sites.csv").read_text(encoding="utf-8")
    assert go(folder).figures.batch == {} and asked_of_coordinator(folder) == []


def ref_of_only_question(folder: Path) -> str:
    import sqlite3

    with sqlite3.connect(folder / "programme" / "ledger.sqlite") as ledger:
        ((ref,),) = ledger.execute("SELECT ref FROM questions WHERE rule = 'town_not_known' AND state = 'open'")
    return str(ref)


def test_a_town_without_a_point_is_not_asked_about_again(tmp_path: Path, go: Go) -> None:
    folder = make_folder(tmp_path / "season")
    write_sheet(
        folder / "inbox" / "p1" / "tags.csv", [["AB0001", "2026-09-03", "male", "Lower Nowhere", "New Brunswick", "51"]]
    )
    go(folder)
    assert main(["answer", ref_of_only_question(folder), "unknown", "--because", "gone", "--folder", str(folder)]) == 0
    write_sheet(
        folder / "inbox" / "p2" / "tags.csv", [["AB0031", "2026-09-03", "male", "Lower Nowhere", "New Brunswick", "51"]]
    )
    assert go(folder).figures.coordinator_questions == 0 and asked_of_coordinator(folder) == []


def test_a_tagger_says_which_of_several_towns_is_meant(tmp_path: Path, go: Go) -> None:
    folder = make_folder(tmp_path / "season")
    write_sheet(folder / "inbox" / "p1" / "tags.csv", [["AB0001", "2026-09-03", "male", "Windsor", "", "51"]])
    go(folder)
    (asked,) = findings(folder)
    assert asked["rule"] == "town_of_several_provinces" and "Nova Scotia, Ontario, Quebec" in asked["message"]
