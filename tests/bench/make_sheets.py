"""Makes a programme folder with N people and a workbook of 100 rows from each, in six layouts, all different.

python tests/bench/make_sheets.py FOLDER --sheets 300 [--clean 0.8]
"""

from __future__ import annotations

import argparse
from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path
from random import Random
from typing import Any, NamedTuple

import xlsxwriter

ROWS = 100  # releases a sheet
ALLOTTED = 125  # tags a person, so that 80 people share a pair of letters
FIRST_DAY, DAYS = date(2026, 8, 14), 68
# Inland towns: latitude, longitude, province; the points are strewn a kilometre round them.
TOWNS = (
    ("Sackville", 45.902, -64.374, "NB"),
    ("Moncton", 46.105, -64.795, "NB"),
    ("Sussex", 45.722, -65.506, "NB"),
    ("Amherst", 45.830, -64.205, "NS"),
    ("Kentville", 45.073, -64.495, "NS"),
    ("Truro", 45.364, -63.280, "NS"),
    ("Bridgewater", 44.378, -64.519, "NS"),
    ("Kensington", 46.435, -63.640, "PE"),
    ("Amqui", 48.460, -67.430, "QC"),
)
WEATHER = ("sun", "cloud", "sun and wind", "haze", "light wind")
PLANTS = ("goldenrod", "New England aster", "boneset", "red clover", "flat-topped aster")
SETTINGS = """\
[programme]
id = "bench"
name = "A programme of many sheets"
contact = "coordinator@example.org"
rights_holder = "A programme of many sheets"

[season]
label = "2026"
first_day = 2026-08-01
last_day = 2026-11-10

[tags]
pattern = "[A-Z]{2}[0-9]{4}"

[species]
default = "Danaus plexippus"
allowed = ["Danaus plexippus"]
"""
PEOPLE = (
    "person_id,name,email,language,publish_name,minor,group,home_latitude,home_longitude,"
    "guardian_name,guardian_email,consent_on"
)


class Release(NamedTuple):
    """One row of a sheet; the fields are typed over where a slip is planted."""

    tag: str
    day: date
    minutes: int
    sex: str
    latitude: float
    longitude: float
    town: str
    province: str
    species: str
    wing: float
    mass: float
    plant: str
    origin: str
    wear: int
    accuracy: int
    warmth: int
    weather: str
    hours: float


Cells = list[object]


class Layout(NamedTuple):
    """A way to lay a sheet out: lines above the heading, the headings, and the cells of a release."""

    above: list[Cells]
    headings: str
    cells: Callable[[Release], Cells]
    more: str = "Stage|Origin|Wear|Accuracy (m)|Temperature|Weather|Hours|Photo"

    def row(self, release: Release) -> Cells:
        """The cells of a release, with what every observer also notes at the end."""
        r, is_french = release, self.more.startswith("Stade")
        words = ("adulte", {"wild": "sauvage", "reared": "élevé"}[r.origin]) if is_french else ("adult", r.origin)
        photo = f"IMG_{1000 + r.minutes}"
        return [*self.cells(r), *words, r.wear, r.accuracy, r.warmth, r.weather, r.hours, photo]


def _clock(r: Release) -> str:
    return f"{r.minutes // 60:02d}:{r.minutes % 60:02d}"


def _minutes(degrees: float, letters: str) -> str:
    size = abs(degrees)
    return f"{int(size)}°{(size - int(size)) * 60:.3f}'{letters[degrees < 0]}"


LAYOUTS = (
    Layout(
        [],
        "Tag|Date|Time|Sex|Latitude|Longitude|Town|Province|Species|Forewing (mm)|Body mass (g)|Nectar plant",
        lambda r: [r.tag, r.day, _clock(r), r.sex, r.latitude, r.longitude, r.town, r.province, r.species,
                   r.wing, r.mass, r.plant],
    ),
    Layout(
        [["Monarques relâchés, saison 2026"], []],
        "Étiquette|Date|Heure|Sexe|Latitude|Longitude|Ville|Province|Espèce|Aile antérieure (mm)|Remarques",
        lambda r: [r.tag, f"{r.day:%d/%m/%Y}", _clock(r), r.sex, r.latitude, r.longitude, r.town, r.province,
                   r.species, r.wing, f"sur {r.plant}"],
        "Stade|Origine|Usure|Précision (m)|Température|Météo|Heures|Photo",
    ),
    Layout(
        [],
        "Tag number|Day|Month|Year|Sex|Latitude|Longitude|Town|Species|Wing length",
        lambda r: [r.tag, r.day.day, r.day.month, r.day.year, r.sex, r.latitude, r.longitude, r.town,
                   r.species, f"{r.wing} mm"],
    ),
    Layout(
        [],
        "tagCode|eventDate|eventTime|sex|Coordinates|scientificName|forewingLength|bodyMass|locality",
        lambda r: [r.tag, r.day.isoformat(), _clock(r), r.sex, f"{r.latitude:.4f}, {r.longitude:.4f}",
                   r.species, r.wing, r.mass, f"meadow with {r.plant}"],
    ),
    Layout(
        [],
        "Date|Tag|Sex|Latitude|Longitude|Place|Species|Forewing (mm)|Wing span (mm)",
        lambda r: [f"{r.day:%B} {r.day.day}, {r.day.year}", r.tag, r.sex, _minutes(r.latitude, "NS"),
                   _minutes(r.longitude, "EW"), r.town, r.species, r.wing, 98],
    ),
    Layout(
        [["Release sheet"], ["Season", "2026"], []],
        "Tag code|Release date|Sex|Lat|Long|State or province|Country|Species|Forewing|Remarks",
        lambda r: [r.tag, r.day, r.sex, r.latitude, r.longitude, r.province, "Canada", r.species, r.wing,
                   f"on {r.plant} at {_clock(r)}"],
    ),
)  # fmt: skip

# One slip of each kind in every sheet that is not clean: about as many as volunteers make.
SLIPS: tuple[Callable[[Release], dict[str, Any]], ...] = (
    lambda r: {"tag": r.tag[:-1] + "O" if r.tag.endswith("0") else r.tag[:2] + "O" + r.tag[3:]},
    lambda r: {"day": r.day.replace(year=2025)},
    lambda r: {"sex": "femle"},
    lambda r: {"longitude": abs(r.longitude)},
    lambda r: {"wing": r.wing * 10},
    lambda r: {"species": "Danaus plexipus"},
)


def allotment(number: int) -> list[str]:
    """The codes of the person of that number, counted from 0."""
    pair, place = divmod(number, 80)
    letters = chr(65 + pair // 26) + chr(65 + pair % 26)
    return [f"{letters}{place * ALLOTTED + n:04d}" for n in range(ALLOTTED)]


def make(folder: Path, sheets: int, clean: float = 0.0) -> None:
    """The whole folder: settings, people, tags and one workbook a person."""
    programme = folder / "programme"
    programme.mkdir(parents=True)
    people, tags = [PEOPLE], ["season,first_code,last_code,person_id,allotted_on,status"]
    for number in range(sheets):
        person, codes = f"q{number:05d}", allotment(number)
        people.append(f"{person},Person Number {number},{person}@example.org,en,no,no,,,,,,")
        tags.append(f"2026,{codes[0]},{codes[-1]},{person},2026-07-01,allotted")
        has_slips = number % 10 >= round(clean * 10)
        _write_sheet(folder / "inbox" / person / "sheet.xlsx", number, codes, has_slips)
    (programme / "programme.toml").write_text(SETTINGS, encoding="utf-8", newline="\n")
    (programme / "people.csv").write_text("\n".join(people) + "\n", encoding="utf-8", newline="\n")
    (programme / "tags.csv").write_text("\n".join(tags) + "\n", encoding="utf-8", newline="\n")


def _write_sheet(path: Path, number: int, codes: list[str], has_slips: bool) -> None:
    random, layout = Random(number), LAYOUTS[number % len(LAYOUTS)]
    releases = [_release(random, code, TOWNS[number % len(TOWNS)]) for code in codes[:ROWS]]
    if has_slips:
        for row, slip in zip(random.sample(range(ROWS), len(SLIPS)), SLIPS, strict=True):
            releases[row] = releases[row]._replace(**slip(releases[row]))
    path.parent.mkdir(parents=True)
    workbook = xlsxwriter.Workbook(path, {"in_memory": True, "default_date_format": "yyyy-mm-dd"})
    sheet = workbook.add_worksheet()
    for i, cells in enumerate(
        [*layout.above, f"{layout.headings}|{layout.more}".split("|"), *map(layout.row, releases)]
    ):
        sheet.write_row(i, 0, cells)
    workbook.close()


def _release(random: Random, tag: str, place: tuple[str, float, float, str]) -> Release:
    town, latitude, longitude, province = place
    return Release(
        tag,
        FIRST_DAY + timedelta(days=random.randrange(DAYS)),
        random.randint(600, 1050),
        random.choice(("male", "female")),
        round(latitude + random.uniform(-0.01, 0.01), 4),
        round(longitude + random.uniform(-0.01, 0.01), 4),
        town,
        province,
        "Danaus plexippus",
        min(56, max(46, round(random.gauss(51, 1.9)))),
        round(random.uniform(0.41, 0.62), 2),
        random.choice(PLANTS),
        random.choice(("wild", "wild", "wild", "reared")),
        random.randint(1, 4),
        random.randint(3, 15),
        random.randint(12, 27),
        random.choice(WEATHER),
        random.choice((0.5, 1, 1.5, 2, 3)),
    )


if __name__ == "__main__":
    arguments = argparse.ArgumentParser(description=__doc__)
    arguments.add_argument("folder", type=Path)
    arguments.add_argument("--sheets", type=int, default=300)
    arguments.add_argument("--clean", type=float, default=0.0)
    asked = arguments.parse_args()
    make(asked.folder, asked.sheets, asked.clean)
