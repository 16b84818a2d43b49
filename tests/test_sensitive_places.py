"""Places that the programme hides: winter sites in winter, and what else of a place must not be told outside."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pandas as pd
import pytest
from geographiclib.geodesic import Geodesic

from pipeline.files.gate_client import Gate
from pipeline.files.shown_km import shown_km
from pipeline.flow import Outcome, run
from pipeline.settings import SettingsWrong
from pipeline.values.sensitive import COLUMNS, slip_in, squares_of_sensitive
from tests.season_folder import TODAY, make_folder, read_table, write_sheet

WINTER = ("Danaus plexippus", "MX-MIC", "11-01", "03-31", "0.1")
SUMMER = ("", "CA", "06-01", "08-31", "0.5")
HIDDEN = pd.DataFrame([WINTER, SUMMER], columns=list(COLUMNS), dtype="str")

CASES = [  # state of the place, country, species, first and last day: the square
    ("a winter site in winter", "MX-MIC", "MX", "Danaus plexippus", "2026-11-12", "2026-11-12", 0.1),
    ("after New Year", "MX-MIC", "MX", "Danaus plexippus", "2027-03-31", "2027-03-31", 0.1),
    ("in spring", "MX-MIC", "MX", "Danaus plexippus", "2027-04-01", "2027-04-01", 0),
    ("the state beside it", "MX-MEX", "MX", "Danaus plexippus", "2026-11-12", "2026-11-12", 0),
    ("another species", "MX-MIC", "MX", "Danaus gilippus", "2026-11-12", "2026-11-12", 0),
    ("the genus alone", "MX-MIC", "MX", "Danaus", "2026-11-12", "2026-11-12", 0.1),
    ("no species", "MX-MIC", "MX", "", "2026-11-12", "2026-11-12", 0.1),
    ("no day", "MX-MIC", "MX", "Danaus plexippus", "", "", 0.1),
    ("a month that may be either", "MX-MIC", "MX", "Danaus plexippus", "2026-04-01", "2026-11-30", 0.1),
    ("a range that begins before", "MX-MIC", "MX", "Danaus plexippus", "2026-10-29", "2026-11-02", 0.1),
    ("a country, by its state", "CA-NB", "", "Vanessa atalanta", "2026-07-01", "2026-07-01", 0.5),
    ("a country, by its name alone", "", "CA", "Vanessa atalanta", "2026-07-01", "2026-07-01", 0.5),
    ("a country in another season", "CA-NB", "CA", "Vanessa atalanta", "2026-09-01", "2026-09-01", 0),
    ("nowhere", "", "", "Danaus plexippus", "2026-11-12", "2026-11-12", 0),
]


@pytest.mark.parametrize("case", [one[1:] for one in CASES], ids=[one[0] for one in CASES])
def test_a_place_is_hidden_where_and_when_the_programme_says(case: tuple[Any, ...]) -> None:
    state, country, species, first, last, square = case
    rows = pd.DataFrame(
        {"place_state": [state], "countryCode": [country], "scientificName": [species],
         "first_day": pd.to_datetime([first or None]), "last_day": pd.to_datetime([last or None])}
    )  # fmt: skip
    assert squares_of_sensitive(rows, HIDDEN).tolist() == [square]


SLIPS = [
    ("all well", {}, ""),
    ("the whole year", {"first_day": "", "last_day": ""}, ""),
    ("a name for an area", {"area": "Michoacán"}, "no code of a country or state"),
    ("a day with its year", {"first_day": "2026-11-01"}, "month and day"),
    ("one day alone", {"last_day": ""}, "one of first_day and last_day"),
    ("no square", {"square_degrees": ""}, "degrees above 0"),
    ("a square of nothing", {"square_degrees": "0"}, "degrees above 0"),
]


@pytest.mark.parametrize(("change", "said"), [one[1:] for one in SLIPS], ids=[one[0] for one in SLIPS])
def test_a_slip_in_the_list_is_said_in_plain_words(change: dict[str, str], said: str) -> None:
    slip = slip_in(dict(zip(COLUMNS, WINTER, strict=True)) | change)
    assert (said in slip) if said else slip == ""


@pytest.fixture
def go(gate: Gate) -> Callable[[Path], Outcome]:
    return lambda folder: run(folder, TODAY, lambda: gate)


def season(folder: Path, sensitive: str) -> Path:
    make_folder(folder)
    (folder / "programme" / "sensitive_places.csv").write_text(sensitive, encoding="utf-8")
    headings = ["Tag", "Date", "Sex", "Latitude", "Longitude"]
    released = ["AB0031", "2026-09-04", "male", "45.9003", "-64.3701", "New Brunswick"]
    write_sheet(folder / "inbox" / "p2" / "a.csv", [released], [*headings, "Province"])
    found = [["AB0031", "2026-10-12", "", "19.6049", "-100.2449", "Rosa Pineda"]]
    write_sheet(folder / "inbox" / "finds" / "found.csv", found, [*headings, "Found by"])
    return folder


HEAD = ",".join(COLUMNS) + "\n"


def test_a_find_at_a_winter_site_goes_out_in_the_wider_square(tmp_path: Path, go: Callable[[Path], Outcome]) -> None:
    folder = season(tmp_path / "s", HEAD + "Danaus plexippus,MX-MIC,10-01,03-31,0.1\n")
    go(folder)
    sent = {line["eventType"]: line for line in read_table(folder / "outbox/portal/2026-0001/occurrence.csv")}
    find, release = sent["Find"], sent["Release"]
    assert (find["decimalLatitude"], find["decimalLongitude"]) == ("19.6", "-100.2")
    assert find["dataGeneralizations"] == "coordinates rounded to the nearest 0.1 degree"
    assert float(find["coordinateUncertaintyInMeters"]) > 7_000  # half the diagonal of 0.1 degree at 19.6 N is 7.6 km
    assert find["coordinatePrecision"] == "0.1"
    # Rémi's home is 30 m away: the usual square.
    assert release["dataGeneralizations"] == "coordinates rounded to the nearest 0.01 degree"


def test_a_list_with_a_slip_stops_the_run_with_a_line(tmp_path: Path, go: Callable[[Path], Outcome]) -> None:
    folder = season(tmp_path / "s", HEAD + "Danaus plexippus,Michoacán,10-01,03-31,0.1\n")
    with pytest.raises(SettingsWrong, match=r"sensitive_places\.csv line 2"):
        go(folder)


def test_the_way_that_a_finder_is_told_is_measured_between_rounded_places(
    tmp_path: Path, go: Callable[[Path], Outcome]
) -> None:
    folder = season(tmp_path / "s", HEAD)
    go(folder)
    with sqlite3.connect(folder / "programme" / "ledger.sqlite") as ledger:
        (told,) = shown_km(ledger, 0.01).values()
    rounded = Geodesic.WGS84.Inverse(45.90, -64.37, 19.60, -100.24)["s12"] / 1000
    exact = Geodesic.WGS84.Inverse(45.9003, -64.3701, 19.6049, -100.2449)["s12"] / 1000
    assert told == pytest.approx(rounded, abs=1e-6) and abs(told - exact) > 0.05
    (letter,) = (folder / "outbox" / "finders").glob("*/letter.txt")
    assert f"about {round(rounded)} km" in letter.read_text(encoding="utf-8").replace("\n", " ")
