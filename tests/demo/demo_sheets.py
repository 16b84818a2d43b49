"""The sheets that lie in their senders' folders, as laid out before any slip: one function a sheet."""

from __future__ import annotations

from datetime import date, timedelta

from demo_book import Book, Rows, heading
from demo_season import (
    MONTHS_FR,
    PLANTS_EN,
    PLANTS_FR,
    PROVINCES_EN,
    PROVINCES_FR,
    WEEKDAYS_FR,
    codes,
    comma,
    minutes,
    releases,
    seconds,
)


def arsenault() -> Book:
    """A title above French headings, days as text, towns only."""
    top: Rows = [["Saltmarsh Wing-Tag Society : monarques relâchés"], ["Tignish et alentours"], []]
    head = heading(
        "Étiquette | Jour | Heure | Sexe | Ville | Province | Aile antérieure (mm) | Plante nectarifère | Remarques"
    )
    rows: Rows = [
        [r.tag, f"{r.day:%d/%m/%Y}", f"{r.clock:%Hh%M}", {"male": "Mâle", "female": "Femelle"}[r.sex], r.town,
         PROVINCES_FR[r.province], r.wing, PLANTS_FR[r.plant % 4], "vent du sud" if r.plant > 84 else None]
        for r in releases("arsenault", codes("SM", 1, 32), "Tignish, Tignish, Tignish, Kensington")
    ]  # fmt: skip
    return Book("p01/Monarques Arsenault-Kell.xlsx", {"Feuil1": [*top, head, *rows]})


def fennimore() -> Book:
    """The plain case: headings in row 1, true dates and times, points."""
    head = heading("Tag | Date | Time | Sex | Latitude | Longitude | Town | Province | Forewing (mm) | Notes")
    rows: Rows = [
        [r.tag, r.day, r.clock, r.sex[0].upper(), r.latitude, r.longitude, r.town, r.province, r.wing,
         f"on {PLANTS_EN[r.plant % 5]}" if r.plant > 60 else None]
        for r in releases("fennimore", codes("SM", 41, 74), "Sackville, Sackville, Amherst", "08-14 to 09-27")
    ]  # fmt: skip
    return Book("p02/tagging-2026.xlsx", {"Sheet1": [head, *rows]})


def fennimore_october() -> Book:
    """The same person's second file, laid out anew, days as ISO text."""
    head = heading("Date | Tag number | Sex | Town | Province | Nectar plant")
    rows: Rows = [
        [r.day.isoformat(), r.tag, r.sex, r.town, PROVINCES_EN[r.province], PLANTS_EN[r.plant % 5]]
        for r in releases("october", codes("SM", 75, 86), "Sackville, Memramcook", "10-01 to 10-28")
    ]
    return Book("p02/october.xlsx", {"October": [head, *rows]})


def wetmore() -> Book:
    """A comma file with month, day and year in three columns, towns only."""
    head = heading("tag | month | day | year | sex | town | province | wing measured | wing length")
    rows: Rows = [
        [r.tag, str(r.day.month), str(r.day.day), str(r.day.year), r.sex[0], r.town, r.province,
         ("left", "right")[r.plant % 2], f"{r.wing} mm"]
        for r in releases("wetmore", codes("SM", 91, 120), "Amherst, Sackville")
    ]  # fmt: skip
    return Book("p03/wetmore-rao.csv", {"": [head, *rows]}, (",", "utf-8"))


def bourgoin() -> Book:
    """A semicolon file in cp1252 with decimal commas."""
    head = heading("Étiquette | Date | Sexe | Latitude | Longitude | Ville | Altitude (m) | Longueur de l'aile (mm)")
    rows: Rows = [
        [r.tag, f"{r.day:%d-%m-%Y}", r.sex[0].upper(), comma(r.latitude), comma(r.longitude), r.town,
         str(40 + r.plant), str(r.wing)]
        for r in releases("bourgoin", codes("SM", 126, 153), "Rogersville, Moncton")
    ]  # fmt: skip
    return Book("p04/lachers 2026.csv", {"": [head, *rows]}, (";", "cp1252"))


def class_5b() -> Book:
    """A class: one sheet a team, the pupils' first names, no points."""
    pupils = {
        "Renards": ("Zélie", "Anatole", "Maëva", "Corentin"),
        "Loutres": ("Ombeline", "Ludger", "Yasmina", "Fabrice"),
    }
    sheets: dict[str, Rows] = {}
    for (team, names), first in zip(pupils.items(), (161, 178), strict=True):
        rows: Rows = [
            [r.tag, names[r.plant % 4], r.day, {"male": "mâle", "female": "femelle"}[r.sex],
             "derrière l'école", r.town, "N.-B."]
            for r in releases(team, codes("SM", first, first + 16), "Memramcook", "09-08 to 10-02")
        ]  # fmt: skip
        head = heading("Numéro d'étiquette | Relâché par | Date | Sexe | Lieu | Village | Province")
        sheets[f"Équipe {team}"] = [["Classe 5B : nos monarques"], head, *rows]
    return Book("p05/classe 5B.ods", sheets)


def juniper() -> Book:
    """A child's sheet: months in words."""
    head = heading("Tag | Date | Male or female | Town | What it was doing")
    rows: Rows = [
        [r.tag, f"{r.day:%B} {r.day.day}, {r.day.year}", {"male": "boy", "female": "girl"}[r.sex], r.town,
         "flying" if r.plant > 50 else "drinking nectar"]
        for r in releases(
            "juniper", codes("SM", 201, 214), "New Glasgow", "08-20 to 09-30"
        )
    ]  # fmt: skip
    return Book("p06/juniper.xlsx", {"My butterflies": [head, *rows]})


def juniper_october() -> Book:
    """Five more from the child; every day of them reads two ways (see the faults)."""
    head = heading("Tag | Date | Sex | Town")
    rows: Rows = [[tag, "", "female", "New Glasgow"] for tag in codes("SM", 215, 219)]
    return Book("p06/juniper more.csv", {"": [head, *rows]}, (",", "utf-8"))


def matheo() -> Book:
    """Another child, in French, in the old workbook format; days over 12 stayed text."""
    head = heading("Étiquette | Date | Sexe | Ville | Province")
    rows: Rows = [
        [r.tag, f"{r.day:%d/%m/%Y}", r.sex[0].upper(), r.town, "NB"]
        for r in releases("matheo", codes("SM", 226, 239), "Moncton", "09-13 to 09-30")
    ]
    return Book("p07/papillons.xls", {"Papillons": [head, *rows]})


def pickersgill() -> Book:
    """A naturalist: the standard's own headings, both coordinates in one column, many measures."""
    head = heading(
        "tagCode | eventDate | eventTime | sex | Coordinates | Body mass (g) | Wear"
        " | Parasite check | Parasite method | Species | Forewing length (mm) | Accuracy (m) | Remarks"
    )
    rows: Rows = [
        [r.tag, r.day, r.clock, r.sex, f"{r.latitude:.4f}, {r.longitude:.4f}", r.mass, 1 + r.plant % 4,
         "none seen" if r.plant > 30 else None,
         "tape sample" if r.plant > 30 else None, "Danaus plexippus", r.wing, 8, None]
        for r in releases("pickersgill", codes("SM", 251, 286), "Wolfville, Kentville")
    ]  # fmt: skip
    return Book("p08/transect.xlsx", {"Data": [head, *rows]})


def okafor() -> Book:
    """A UTF-16 tab file with degrees, minutes and seconds."""
    head = heading("Tag | Day | Time | Sex | Latitude | Longitude | Place | Wing span (mm)")
    rows: Rows = [
        [r.tag, f"{r.day.day} {r.day:%b} {r.day.year}", f"{r.clock:%H:%M}", r.sex, seconds(r.latitude,
         "NS"), seconds(r.longitude, "EW"),
         f"{r.town}, old orchard" if r.plant > 50 else r.town, str(r.wing * 2 - 4)]
        for r in releases("okafor", codes("SM", 301, 326), "Bridgewater, Kentville")
    ]  # fmt: skip
    return Book("p09/okafor-hale.tsv", {"": [head, *rows]}, ("\t", "utf-16"))


def doucette() -> Book:
    """The old workbook format in French, degrees and decimal minutes, west written O."""
    head = heading("Date | No d'étiquette | Sexe | Latitude | Longitude | Localité | Stade")
    rows: Rows = [
        [r.day.isoformat(), r.tag, {"male": "mâle", "female": "femelle"}[r.sex], minutes(r.latitude, "NS"),
         minutes(r.longitude, "EO"),
         r.town, "adulte"]
        for r in releases("doucette", codes("SM", 331, 356), "Kensington, Hunter River")
    ]  # fmt: skip
    return Book("p10/relaches.xls", {"Lâchers": [head, *rows]})


def doucette_last() -> Book:
    """Three more without any day."""
    rows: Rows = [[tag, "femelle", "Kensington"] for tag in codes("SM", 357, 359)]
    return Book("p10/derniers.csv", {"": [["Étiquette", "Sexe", "Localité"], *rows]}, (";", "utf-8"))


def rushworth() -> Book:
    """A tab file, month first, wings in inches."""
    head = heading("Tag No | Date | Sex | Wing length | Town | Province | Comments")
    rows: Rows = [
        [r.tag, f"{r.day.month}/{r.day.day}/{r.day:%y}", r.sex, f"{r.wing / 25.4:.2f} in", r.town, "PEI",
         "windy" if r.plant > 80 else ""]
        for r in releases("rushworth", codes("SM", 361, 388), "Hunter River, Montague")
    ]  # fmt: skip
    return Book("p11/rushworth.txt", {"": [head, *rows]}, ("\t", "utf-8"))


def rushworth_last() -> Book:
    """And three stragglers."""
    rows: Rows = [
        ["SM0403", "2026-10-22", "F", "Montague"],
        ["SM0404", "2026-10-25", "M", "Montague"],
        ["SM0405", "2026-10-29", "F", "Montague"],
    ]
    return Book("p11/last three.csv", {"": [["Tag", "Date", "Sex", "Town"], *rows]}, (",", "utf-8"))


def solheim() -> Book:
    """Reared and wild in one sheet, with days of emergence; the codes hold an E."""
    head = heading(
        "Tag | Origin | Date emerged | Release date | Sex | Alive or dead"
        " | Town | Province | Country | Forewing (mm) | How many"
    )
    rows: Rows = [
        [r.tag, "reared" if r.plant > 20 else "wild", r.day - timedelta(days=1) if r.plant > 20 else None,
         r.day, r.sex, "alive",
         r.town, "NB", "Canada", r.wing, 1]
        for r in releases("solheim", codes("4E", 1, 30), "Fredericton, Sussex")
    ]  # fmt: skip
    return Book("p12/solheim-2026.xlsx", {"Reared": [head, *rows]})


def gagnon() -> Book:
    """Québec: day, month in words and year in three columns, with a day of capture."""
    head = heading("Étiquette | Jour | Mois | Année | Sexe | Latitude | Longitude | Ville | Province | Date de capture")
    rows: Rows = [
        [r.tag, r.day.day, MONTHS_FR[r.day.month - 8], r.day.year, r.sex[0].upper(), r.latitude,
         r.longitude, r.town, "Québec",
         r.day - timedelta(days=r.plant % 2)]
        for r in releases("gagnon", codes("SM", 406, 429), "Amqui, Causapscal", "08-14 to 09-24")
    ]  # fmt: skip
    return Book("p13/gagnon-leduc.ods", {"Feuille1": [head, *rows]})


def quillfeather() -> Book:
    """A sheet a month, each with a title above and a total below."""
    head = heading("Tag | Date | Sex | Latitude | Longitude | Town | How many | Nectar plant | Weather")
    sheets: dict[str, Rows] = {}
    for month, first in ((8, 436), (9, 446), (10, 456)):
        rows: Rows = [
            [r.tag, r.day, r.sex[0], r.latitude, r.longitude, r.town, 1, PLANTS_EN[r.plant % 5],
             "fair" if r.plant > 40 else "cloudy"]
            for r in releases(
                f"quill{month}",
                codes("SM", first, first + 9),
                "Truro",
                f"{month:02d}-14 to {month:02d}-28",
            )
        ]  # fmt: skip
        total: Rows = [[], ["Total", None, None, None, None, None, 10]]
        sheets[f"{date(2026, month, 1):%B}"] = [["Truro field notes"], [], head, *rows, *total]
    return Book("p14/quillfeather.xlsx", sheets)


def macaskill() -> Book:
    """A two-language form with a column that says release or find; a byte order mark in front."""
    head = heading(
        "Release or find / Lâcher ou étiquette retrouvée | Tag / Étiquette | Date | Sex / Sexe"
        " | Town / Ville | Province"
    )
    rows: Rows = [
        ["release", r.tag, r.day.isoformat(), r.sex, r.town, PROVINCES_EN[r.province]]
        for r in releases("macaskill", codes("SM", 476, 499), "New Glasgow, Antigonish")
    ]
    again: Rows = [
        ["find", "SM0477", "2026-09-06", "", "New Glasgow", "Nova Scotia"],
        ["find", "SM0480", "2026-09-19", "", "Antigonish", "Nova Scotia"],
    ]
    return Book("p15/macaskill.csv", {"": [head, *rows, *again]}, (",", "utf-8-sig"))


def benoit() -> Book:
    """French, with the weekday written out before each day."""
    head = heading("Date | Étiquette | Sexe | Ville | Province | Pays | Aile antérieure (mm) | Envergure (mm)")
    rows: Rows = [
        [f"{WEEKDAYS_FR[r.day.weekday()]} {r.day.day} {MONTHS_FR[r.day.month - 8]} {r.day.year}", r.tag,
         r.sex[0].upper(), r.town,
         PROVINCES_FR[r.province], "Canada", r.wing, r.wing * 2 - 5]
        for r in releases("benoit", codes("SM", 506, 531), "Saint-Quentin, Rogersville")
    ]  # fmt: skip
    return Book("p16/benoit-estey.xlsx", {"2026": [head, *rows]})


def old_mac() -> Book:
    """A sheet whose days were counted from 1904 and pasted into a workbook that counts from 1900."""
    head = heading("Tag | Date | Sex | Town | Province")
    rows: Rows = [
        [r.tag, r.day - timedelta(days=1462), r.sex[0].upper(), r.town, "NB"]
        for r in releases("mac", codes("SM", 601, 608), "Sussex", "08-25 to 09-20")
    ]
    return Book("p19/tilley-voss.xlsx", {"Sheet1": [head, *rows]})
