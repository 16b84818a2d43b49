"""What lies at a point: country, state, county, land or water, from the packed boundaries."""

from __future__ import annotations

from functools import cache, lru_cache
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from pipeline.files.boundary_layers import Layer, Texts, Whole, accepts, counties, lakes, may_be_lake, shape_at, world
from pipeline.files.outlines import (
    Numbers,
    Outlines,
    boxes_round,
    near,
    nearest,
    outlines_from,
    outlines_of,
    together,
)
from pipeline.files.schemas import table

NEAR_SHORE_KM = 3.0  # harbours lie "at sea" in generalised coast lines
WATER_KM = 400.0  # farther from land we do not measure
ISLAND_KM = 5.0  # round a place on an island that the boundaries do not know
# Counties stop at the shores of these, and know islands that the lakes do not.
GREAT = {"Lake Superior", "Lake Michigan", "Lake Huron", "Lake Erie", "Lake Ontario", "Lake Saint Clair"}


class Found(NamedTuple):
    """The state or province at each point (-1 at sea; just off a shore that of the shore), and what is no land."""

    shapes: Whole
    is_sea: npt.NDArray[np.bool_]


def country_at(latitudes: Numbers, longitudes: Numbers) -> Texts:
    """The two-letter code of the country at each point, "" at sea; a point just off a shore counts as on it."""
    return _said(world().countries, found(latitudes, longitudes).shapes) if len(latitudes) else _nothing()


def claims_at(latitudes: Numbers, longitudes: Numbers) -> Texts:
    """Every code of a country that is not wrong at each point, between blanks."""
    return _said(world().claims, found(latitudes, longitudes).shapes) if len(latitudes) else _nothing()


def claims_near(latitudes: Numbers, longitudes: Numbers, km: Numbers) -> Texts:
    """Every code of a country of which a state may lie within so many km, by the boxes round the states."""
    if not len(latitudes):
        return _nothing()
    boxes = boxes_round(latitudes, longitudes, km)
    points, shapes = world().layer.tree.query(boxes.ravel())
    pairs = np.stack([points % len(latitudes), shapes])
    claims: list[dict[str, None]] = [{} for _ in latitudes]
    for point, shape in np.unique(pairs, axis=1).T.tolist():
        claims[point] |= dict.fromkeys(world().claims[shape].split())
    return np.array([f" {' '.join(codes)} " for codes in claims])


def state_at(latitudes: Numbers, longitudes: Numbers) -> Texts:
    """The ISO 3166-2 code of the state or province at each point, "" at sea or where none is known."""
    return _said(world().states, found(latitudes, longitudes).shapes) if len(latitudes) else _nothing()


def county_at(latitudes: Numbers, longitudes: Numbers) -> Texts:
    """The code of the county of the United States in which each point lies, "" elsewhere."""
    return _said(counties().fips, _county(latitudes, longitudes)) if len(latitudes) else _nothing()


def km_to_land(latitudes: Numbers, longitudes: Numbers) -> Numbers:
    """How far each point lies out in a lake or at sea; 0 on land, infinite far out at sea."""
    if not len(latitudes):
        return np.zeros(0)
    km, sea = np.zeros(len(latitudes)), np.flatnonzero(found(latitudes, longitudes).is_sea)
    km[sea], _ = to_land(latitudes[sea], longitudes[sea], WATER_KM)
    lake = np.full(len(latitudes), -1, dtype="int64")
    maybe = np.flatnonzero(may_be_lake(latitudes, longitudes))
    lake[maybe] = _in(lakes(), latitudes[maybe], longitudes[maybe])
    names = np.array([line[0] in GREAT for line in lakes().lines])
    is_great = (lake >= 0) & names[lake]
    dry = np.flatnonzero(is_great)
    dry = dry[shape_at(counties().layer, latitudes[dry], longitudes[dry]) >= 0]
    lake[dry] = -1
    wet = np.flatnonzero(lake >= 0)
    if len(wet):
        wet = wet[_island(latitudes[wet], longitudes[wet]) < 0]
        km[wet] = nearest(_shores(), latitudes[wet], longitudes[wet]).km
        great = wet[is_great[wet]]
        km[great] = np.minimum(km[great], nearest(county_lines(), latitudes[great], longitudes[great]).km)
    return km


def _nothing() -> Texts:
    return np.zeros(0, dtype="<U6")


def _said(texts: Texts, shapes: Whole) -> Texts:
    return np.where(shapes >= 0, texts[shapes], "")


def found(latitudes: Numbers, longitudes: Numbers) -> Found:
    """The shape at each point; kept, for the same points are asked about their country, state and land in turn."""
    return _remembered(np.asarray(latitudes, "float64").tobytes(), np.asarray(longitudes, "float64").tobytes())


@lru_cache(maxsize=2)
def _remembered(north: bytes, east: bytes) -> Found:
    latitudes, longitudes = np.frombuffer(north), np.frombuffer(east)
    shapes = _in(world().layer, latitudes, longitudes)
    is_sea = (shapes < 0) & (np.abs(latitudes) <= 90) & (np.abs(longitudes) <= 180)
    sea = np.flatnonzero(is_sea)
    if len(sea):
        county = shape_at(counties().layer, latitudes[sea], longitudes[sea])
        shapes[sea] = np.where(county >= 0, _shape_of_county()[county], -1)
        is_sea[sea] = county < 0
        sea = sea[county < 0]
        _, shapes[sea] = to_land(latitudes[sea], longitudes[sea], NEAR_SHORE_KM)
        island = _island(latitudes[sea], longitudes[sea])
        is_sea[sea] = island < 0
        for number in np.unique(island[(island >= 0) & (shapes[sea] < 0)]).tolist():
            shapes[sea[(island == number) & (shapes[sea] < 0)]] = _shape_of_island(number)
    return Found(shapes, is_sea)


def to_land(latitudes: Numbers, longitudes: Numbers, reach: float) -> tuple[Numbers, Whole]:
    """How far the nearest land lies, and its shape; infinite and -1 where none lies within so many km."""
    km, owners = np.full(len(latitudes), np.inf), np.full(len(latitudes), -1)
    boxes = boxes_round(latitudes, longitudes, np.full(len(latitudes), reach))
    shapes, fine = np.zeros(len(world().states), dtype=bool), np.zeros(len(counties().fips), dtype=bool)
    points, reached = world().layer.tree.query(boxes.ravel())
    shapes[reached] = True
    fine[counties().layer.tree.query(boxes.ravel())[1]] = True
    asked = np.unique(points % len(latitudes)) if len(points) else points
    if len(asked):
        lines = outlines_of(world().layer, shapes)
        if fine.any():
            of_counties = outlines_of(counties().layer, fine)
            lines = together(lines, of_counties._replace(owners=_shape_of_county()[of_counties.owners]))
        few = latitudes[asked], longitudes[asked]
        land = near(lines, *few, reach) if reach <= NEAR_SHORE_KM else nearest(lines, *few)
        is_near = land.km <= reach
        km[asked[is_near]], owners[asked[is_near]] = land.km[is_near], land.owners[is_near]
    return km, owners


def _in(known: Layer, latitudes: Numbers, longitudes: Numbers) -> Whole:
    """The shape in which each point on the globe lies, -1 for none."""
    found = np.full(len(latitudes), -1, dtype="int64")
    asked = np.flatnonzero((np.abs(latitudes) <= 90) & (np.abs(longitudes) <= 180))
    found[asked] = shape_at(known, np.asarray(latitudes)[asked], np.asarray(longitudes)[asked])
    return found


def _county(latitudes: Numbers, longitudes: Numbers) -> Whole:
    return _in(counties().layer, latitudes, longitudes)


@cache
def _shape_of_county() -> Whole:
    """A shape of the state of each county."""
    first = {state: place for place, state in reversed(list(enumerate(world().states.tolist())))}
    return np.array([first[state] for state in counties().states.tolist()])


@cache
def _islands() -> tuple[Outlines, Texts]:
    """Places on islands that the boundaries do not know, and their countries."""
    lines = table("boundaries/islands.csv")
    places = np.array([[float(line["longitude"]), float(line["latitude"])] for line in lines])
    pieces = np.repeat(places[:, None], 2, axis=1)
    return outlines_from(pieces, np.arange(len(lines))), np.array([line["country"] for line in lines])


def _island(latitudes: Numbers, longitudes: Numbers) -> Whole:
    """The known place beside each point, -1 for none."""
    return near(_islands()[0], latitudes, longitudes, ISLAND_KM).owners


@cache
def _shape_of_island(number: int) -> int:
    """The nearest shape of the country of a known place, -1 if it has none."""
    places, codes = _islands()
    of_country = accepts("countries", str(codes[number]))
    if not of_country.any():
        return -1
    lon, lat = places.pieces[number : number + 1, 0].T
    return int(nearest(outlines_of(world().layer, of_country), lat, lon).owners[0])


@cache
def county_lines() -> Outlines:
    """The outlines of all counties of the United States."""
    return outlines_of(counties().layer, np.ones(len(counties().fips), dtype=bool))


@cache
def _shores() -> Outlines:
    return outlines_of(lakes(), np.ones(len(lakes().lines), dtype=bool))
