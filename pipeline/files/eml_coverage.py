"""What the published records cover: days, places, butterflies. Counted from what went out, rounded places included."""

from __future__ import annotations

import calendar
from typing import NamedTuple

import numpy as np
import pyarrow as pa

from pipeline.files.archive_tables import coded, texts_of

RANKS = ("kingdom", "phylum", "class", "order", "family", "genus")
MOST_PLACES = 60  # named one by one


class Taxon(NamedTuple):
    """A name of the records: its ranks above it, its own rank and what it is called."""

    above: tuple[tuple[str, str], ...]
    rank: str
    name: str
    vernacular: str


class Coverage(NamedTuple):
    """First and last day, west, east, north and south in degrees as published, places in words, names, counts."""

    days: tuple[str, str] | None
    box: tuple[str, str, str, str] | None
    places: str
    taxa: tuple[Taxon, ...]
    releases: int
    finds: int


def coverage_of(core: pa.Table) -> Coverage:
    """The coverage of the records of a core table whose cells are coded texts."""
    kinds = core["eventType"].combine_chunks().cast(pa.string()) if core.num_rows else pa.array([], pa.string())
    finds = sum(1 for kind in kinds.to_pylist() if kind == "Find") if "Find" in texts_of(core["eventType"]) else 0
    return Coverage(_days(core), _box(core), _places(core), _taxa(core), core.num_rows - finds, finds)


def _days(core: pa.Table) -> tuple[str, str] | None:
    written = [text.split("/") for text in texts_of(core["eventDate"]) if text]
    if not written:
        return None
    return min(_first(ends[0]) for ends in written), max(_last(ends[-1]) for ends in written)


def _first(day: str) -> str:
    return day + "-01-01"[len(day) - 4 :] if len(day) < 10 else day


def _last(day: str) -> str:
    """The last day of a year or a month, or the day itself."""
    if len(day) == 10:
        return day
    year, month = int(day[:4]), int(day[5:7] or 12)
    return f"{year:04d}-{month:02d}-{calendar.monthrange(year, month)[1]:02d}"


def _box(core: pa.Table) -> tuple[str, str, str, str] | None:
    latitudes = sorted((text for text in texts_of(core["decimalLatitude"]) if text), key=float)
    longitudes = sorted((text for text in texts_of(core["decimalLongitude"]) if text), key=float)
    if not latitudes or not longitudes:
        return None
    west, east = _around(longitudes)
    return west, east, latitudes[-1], latitudes[0]


def _around(longitudes: list[str]) -> tuple[str, str]:
    """The western and eastern end of the smallest span; it may cross 180 degrees, and then west lies above east."""
    degrees = np.array([float(text) for text in longitudes])
    gaps = np.diff(degrees, append=degrees[0] + 360)
    widest = int(np.argmax(gaps))
    if gaps[widest] <= gaps[-1]:
        return longitudes[0], longitudes[-1]
    return longitudes[widest + 1], longitudes[widest]


def _places(core: pa.Table) -> str:
    """The states and provinces of each country, in words."""
    (states, of_state), (countries, of_country) = coded(core["stateProvince"]), coded(core["country"])
    if not len(states):
        return ""
    mixes = np.unique(countries.astype("int64") * max(len(of_state), 1) + states)
    told: dict[str, list[str]] = {}
    for country, state in (divmod(int(mix), len(of_state)) for mix in mixes):
        told.setdefault(of_country[country].as_py(), []).append(of_state[state].as_py())
    named = {state for country, own in told.items() if country for state in own}
    told[""] = [state for state in told.get("", []) if state not in named]  # of rows that name no country
    return "; ".join(filter(None, (_of_country(country, sorted(told[country])) for country in sorted(told))))


def _of_country(country: str, states: list[str]) -> str:
    named = [state for state in states if state]
    words = ", ".join(named[:MOST_PLACES]) + (f" and {len(named) - MOST_PLACES} more" * (len(named) > MOST_PLACES))
    return f"{words} ({country})" if words and country else words or country


def _taxa(core: pa.Table) -> tuple[Taxon, ...]:
    """Each scientific name once, with the classification of its first record."""
    codes, _ = coded(core["scientificName"])
    places = np.unique(codes, return_index=True)[1]
    columns = ("scientificName", "taxonRank", "vernacularName", *RANKS)
    lines = core.select(columns).take(pa.array(places)).to_pylist()
    taxa = []
    for line in lines:
        above = tuple((rank, line[rank]) for rank in RANKS if line[rank] and line[rank] != line["scientificName"])
        taxa.append(Taxon(above, line["taxonRank"], line["scientificName"], line["vernacularName"]))
    return tuple(sorted(taxon for taxon in taxa if taxon.name))
