"""Makes a small programme folder for tests that run the whole pipeline; all people are invented."""

from __future__ import annotations

import csv
from collections.abc import Mapping
from datetime import date
from pathlib import Path

TODAY = date(2026, 10, 20)

SETTINGS = """\
[programme]
id = "marsh"
name = "Marsh Test Society"
contact = "coordinator@example.org"
rights_holder = "Marsh Test Society"

[season]
label = "2026"
first_day = 2026-08-01
last_day = 2026-11-10

[letters]
signed_by = "Maud"
"""

PEOPLE = """\
person_id,name,email,language,publish_name,minor,group,home_latitude,home_longitude,guardian_name,guardian_email,consent_on
p1,Ines Melanson,ines@example.org,en,yes,no,,,,,,2026-07-01
p2,Rémi Doucet,remi@example.org,fr,no,no,,45.9000,-64.3700,,,2026-07-01
p3,Tess Okpara,,en,no,yes,,,,Ada Okpara,ada@example.org,2026-07-01
"""

TAGS = """\
season,first_code,last_code,person_id,allotted_on,status
2026,AB0001,AB0030,p1,2026-07-20,
2026,AB0031,AB0060,p2,2026-07-20,
2026,AB0061,AB0070,p3,2026-07-20,
2026,AB0030,,,2026-08-30,returned
"""

HEADINGS = ["Tag", "Date", "Sex", "Town", "Province", "Forewing mm"]
TOWNS = (("Sackville", "New Brunswick"), ("Amherst", "Nova Scotia"), ("Tignish", "Prince Edward Island"))
WINGS = (51, 48, 53, 52, 47, 54, 49, 51, 52, 46)


def make_folder(folder: Path, settings: str = SETTINGS, people: str = PEOPLE, tags: str = TAGS) -> Path:
    """An empty inbox beside a programme with three people."""
    (folder / "inbox").mkdir(parents=True)
    (folder / "programme").mkdir()
    for name, text in (("programme.toml", settings), ("people.csv", people), ("tags.csv", tags)):
        (folder / "programme" / name).write_text(text, encoding="utf-8", newline="\n")
    return folder


def clean_rows(first: int, count: int) -> list[list[str]]:
    """Releases about which there is nothing to ask, with codes from AB<first> on."""
    return [
        [
            f"AB{first + i:04d}",
            f"2026-09-{3 + i % 25:02d}",
            ("male", "female")[i % 2],
            *TOWNS[i % 3],
            str(WINGS[i % len(WINGS)]),
        ]
        for i in range(count)
    ]


def write_sheet(path: Path, rows: list[list[str]], headings: list[str] | None = None) -> Path:
    """A CSV file of the inbox."""
    path.parent.mkdir(parents=True, exist_ok=True)
    with path.open("w", encoding="utf-8", newline="") as file:
        csv.writer(file, lineterminator="\n").writerows([headings or HEADINGS, *rows])
    return path


def read_table(path: Path) -> list[Mapping[str, str]]:
    """The lines of one of our CSV files."""
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def findings(folder: Path) -> list[Mapping[str, str]]:
    """The lines of findings.csv."""
    return read_table(folder / "outbox" / "coordinator" / "findings.csv")


def rows(folder: Path) -> list[Mapping[str, str]]:
    """The lines of rows.csv."""
    return read_table(folder / "outbox" / "coordinator" / "rows.csv")
