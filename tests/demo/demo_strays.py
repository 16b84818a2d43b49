"""Sheets at the inbox's root, whose sender is told by something else than a folder, and the finds."""

from __future__ import annotations

from datetime import date

from demo_book import Book, Rows, heading
from demo_season import PROVINCES_EN, codes, releases


def rushworth_second() -> Book:
    """The same person once more, at the inbox's root, told by a column."""
    head = heading("Released by | Tag | Date | Sex | Town")
    rows: Rows = [
        ["Barnaby Rushworth", r.tag, r.day.isoformat(), r.sex[0].upper(), r.town]
        for r in releases("second", codes("SM", 389, 402), "Montague")
    ]
    return Book("butterflies.csv", {"": [head, *rows]}, (",", "utf-8"))


def guides() -> Book:
    """At the inbox's root: a name above the table says whose it is."""
    top: Rows = [["Name", "Jasper Nwosu-Gray"], ["Group", "Marsh Guides"], []]
    head = heading("Tag code | Release date | Time | Sex | Latitude | Longitude | Locality | Remarks | Hours")
    rows: Rows = [
        [r.tag, r.day, r.clock, r.sex, r.latitude, r.longitude,
         "by the footbridge" if r.plant > 50 else "Guides' Meadow", None, 2]
        for r in releases(
            "guides", codes("SM", 536, 559), "Antigonish", "08-22 to 10-03"
        )
    ]  # fmt: skip
    return Book("tagging sheet guides.xlsx", {"Sheet1": [*top, head, *rows]})


def brackenridge() -> Book:
    """At the inbox's root, without any name: only the tags' allotment says whose it is."""
    head = heading("Tag | Species | Date | Sex | Lat | Long | State or province | Country")
    rows: Rows = [
        [r.tag, "monarch", r.day, r.sex[0].upper(), r.latitude, r.longitude, PROVINCES_EN[r.province],
         "Canada"]
        for r in releases(
            "brackenridge",
            codes("SM", 571, 590),
            "Sussex, Moncton, Sackville",
            "08-18 to 09-30",
        )
    ]  # fmt: skip
    return Book("Book1.xlsx", {"Sheet1": [head, *rows]})


def stall() -> Book:
    """Left-over tags given away at a fair: nobody knows any more to whom."""
    head = heading("Tag | Date | Sex | Town")
    rows: Rows = [
        ["SM0911", "2026-09-19", "female", "Amherst"],
        ["SM0914", "2026-09-19", "male", "Amherst"],
        ["SM0917", "2026-09-20", "male", "Amherst"],
    ]
    return Book("fair stall.csv", {"": [head, *rows]}, (",", "utf-8"))


# Tag, day, state, sex, position, town and state; the last four do not go with their release.
FOUND = """\
SM0041 | 2026-08-24 | alive | male | 44.7151 | -67.4614 | Machias | Maine
SM0130 | 2026-09-14 | alive | | 42.3251 | -72.6412 | Northampton | Massachusetts
SM0304 | 2026-09-20 | alive | female | 39.0826 | -74.8238 | Cape May Court House | New Jersey
SM0258 | 2026-09-26 | dead | male | 38.1496 | -79.0717 | Staunton | Virginia
4E0003 | 2026-10-14 | alive | male | 30.0474 | -99.1403 | Kerrville | Texas
SM0439 | 2026-09-08 | alive | | 40.0379 | -76.3055 | Lancaster | Pennsylvania
SM0062 | 2026-09-05 | alive | female | 44.8312 | -68.7905 | Bangor | Maine
SM0409 | 2026-08-18 | alive | male | 38.1512 | -79.0688 | Staunton | Virginia
SM0336 | 2026-09-30 | alive | female | 42.3301 | -72.6522 | Northampton | Massachusetts
SM0621 | 2026-10-03 | dead | | 40.0402 | -76.2988 | Lancaster | Pennsylvania
"""
# Tag, day, sex, state, position, village and species, as a finder in Michoacán writes.
HALLADOS = """\
SM0541 | 12/11/2026 | hembra | viva | 19.6186 | -100.2853 | Angangueo | Danaus plexippus
SM0578 | 14/11/2026 | | muerta | 19.5850 | -100.3390 | Ocampo | monarca
SM0002 | 08/11/2026 | macho | viva | 19.9520 | -100.1650 | Contepec | monarca
SM0577 | 16/11/2026 | macho | muerta | 19.6204 | -100.2811 | Angangueo | Danaus gilippus
"""


def _lines(table: str) -> list[list[str]]:
    return [[cell.strip() for cell in line.split("|")] for line in table.splitlines()]


def finds() -> Book:
    """What strangers told the coordinator: tags found from Maine to Texas."""
    head = heading("Release or find | Tag | Date | Alive or dead | Sex | Latitude | Longitude | Town | State | Country")
    rows: Rows = [
        [
            "find",
            tag,
            date.fromisoformat(day),
            state,
            sex or None,
            float(latitude),
            float(longitude),
            *place,
            "USA",
        ]
        for tag, day, state, sex, latitude, longitude, *place in _lines(FOUND)
    ]
    return Book("c01/finds 2026.xlsx", {"Finds": [head, *rows]})


def hallazgos() -> Book:
    """A finder in central Mexico, in Spanish."""
    head = heading(
        "Liberación o hallazgo | Etiqueta | Fecha | Sexo | Vivo o muerto | Latitud | Longitud | Localidad"
        " | Especie | Estado | País"
    )
    rows: Rows = [["hallazgo", *cells, "Michoacán", "México"] for cells in _lines(HALLADOS)]
    return Book("f01/hallazgos.csv", {"": [head, *rows]}, (";", "utf-8"))


def mariposas() -> Book:
    """Another finder, from the north of Mexico."""
    head = heading("Liberación o hallazgo | Código | Fecha | Localidad | Estado | País")
    rows: Rows = [
        ["hallazgo", "SM0263", "19 de octubre de 2026", "Múzquiz", "Coahuila", "México"],
        ["hallazgo", "SM0345", "23 de octubre de 2026", "Saltillo", "Coahuila", "México"],
        ["hallazgo", "SM7718", "23 de octubre de 2026", "Saltillo", "Coahuila", "México"],
    ]
    return Book("f02/mariposas.txt", {"": [head, *rows]}, ("\t", "utf-8"))
