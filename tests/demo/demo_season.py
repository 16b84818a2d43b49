"""The season of the demo as it really was: who let which butterfly go, when and where, from a fixed seed."""

from __future__ import annotations

from datetime import date, time, timedelta
from random import Random
from typing import NamedTuple

# Town: latitude, longitude and province; points are strewn round it over land.
TOWNS = {
    "Sackville": (45.9020, -64.3740, "NB"),
    "Memramcook": (45.9940, -64.5620, "NB"),
    "Moncton": (46.1050, -64.7950, "NB"),
    "Rogersville": (46.7340, -65.4380, "NB"),
    "Fredericton": (45.9500, -66.6600, "NB"),
    "Sussex": (45.7220, -65.5060, "NB"),
    "Saint-Quentin": (47.5130, -67.3920, "NB"),
    "Amherst": (45.8300, -64.2050, "NS"),
    "Wolfville": (45.0720, -64.3800, "NS"),
    "Kentville": (45.0730, -64.4950, "NS"),
    "Truro": (45.3640, -63.2800, "NS"),
    "New Glasgow": (45.5860, -62.6440, "NS"),
    "Antigonish": (45.6050, -62.0150, "NS"),
    "Bridgewater": (44.3780, -64.5190, "NS"),
    "Tignish": (46.9400, -64.0300, "PE"),
    "Kensington": (46.4350, -63.6400, "PE"),
    "Hunter River": (46.3500, -63.3500, "PE"),
    "Montague": (46.1600, -62.6600, "PE"),
    "Amqui": (48.4600, -67.4300, "QC"),
    "Causapscal": (48.3550, -67.2250, "QC"),
}
PROVINCES_EN = {"NB": "New Brunswick", "NS": "Nova Scotia", "PE": "Prince Edward Island", "QC": "Quebec"}
PROVINCES_FR = {
    "NB": "Nouveau-Brunswick",
    "NS": "Nouvelle-Écosse",
    "PE": "Île-du-Prince-Édouard",
    "QC": "Québec",
}
PLANTS_EN = ("goldenrod", "New England aster", "boneset", "red clover", "flat-topped aster")
PLANTS_FR = ("verge d'or", "aster", "trèfle rouge", "eupatoire maculée")
MONTHS_FR = ("août", "septembre", "octobre")
WEEKDAYS_FR = ("lundi", "mardi", "mercredi", "jeudi", "vendredi", "samedi", "dimanche")


class Release(NamedTuple):
    """One butterfly let go with a tag."""

    tag: str
    day: date
    clock: time
    sex: str  # male or female
    latitude: float
    longitude: float
    town: str
    province: str
    wing: int  # forewing, mm
    mass: float  # g
    plant: int


def codes(prefix: str, first: int, last: int) -> list[str]:
    """The codes of a range, both ends in it."""
    return [f"{prefix}{number:04d}" for number in range(first, last + 1)]


def releases(seed: str, tags: list[str], towns: str, days: str = "08-14 to 10-20") -> list[Release]:
    """A release for each tag in the order of days; one seed a sheet, so that no sheet moves another."""
    random = Random(f"saltmarsh 2026 {seed}")
    first, last = (date.fromisoformat(f"2026-{day}") for day in days.split(" to "))
    span = (last - first).days
    when = sorted(first + timedelta(days=random.randint(0, span)) for _ in tags)
    places = towns.split(", ")
    return [_release(random, tag, day, random.choice(places)) for tag, day in zip(tags, when, strict=True)]


def _release(random: Random, tag: str, day: date, town: str) -> Release:
    latitude, longitude, province = TOWNS[town]
    minutes = random.randint(10 * 60, 17 * 60 + 30)
    # Common practice: males are the larger on the whole; lengths to one millimetre.
    sex = random.choice(("male", "female"))
    wing = min(56, max(46, round(random.gauss(51.6 if sex == "male" else 50.6, 1.9))))
    return Release(
        tag, day, time(minutes // 60, minutes % 60), sex,
        round(latitude + random.uniform(-0.011, 0.011), 4),
        round(longitude + random.uniform(-0.013, 0.013), 4),
        town, province, wing, round(random.uniform(0.41, 0.62), 2), random.randint(0, 99),
    )  # fmt: skip


def minutes(degrees: float, letters: str) -> str:
    """46.4353, "NS" as 46°26.118'N."""
    size = abs(degrees)
    return f"{int(size)}°{(size - int(size)) * 60:.3f}'{letters[degrees < 0]}"


def seconds(degrees: float, letters: str) -> str:
    """45.0713, "NS" as 45°04'17"N."""
    whole = round(abs(degrees) * 3600)
    return f"{whole // 3600}°{whole // 60 % 60:02d}'{whole % 60:02d}\"{letters[degrees < 0]}"


def comma(number: float, decimals: int = 4) -> str:
    """45.07 as 45,0700."""
    return f"{number:.{decimals}f}".replace(".", ",")
