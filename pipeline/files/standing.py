"""Whether points stand in the country or state named beside them, for many at once: in words, not in km."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache, lru_cache

import numpy as np
import numpy.typing as npt
import shapely

from pipeline.files.boundaries import lines_of
from pipeline.files.boundary_layers import Texts, Whole, accepts, world
from pipeline.files.boundary_points import Found, found, to_land
from pipeline.files.outlines import GEOD, Numbers, Outlines, boxes_round, near, nearest, outlines_of
from pipeline.files.schemas import table

ZONE_KM = 400.0  # 200 nautical miles, and what straight base lines and islets that we do not know may add
TERRITORIAL_KM = 22.3  # 12 nautical miles
HIGH_SEAS = "XZ"
Flags = npt.NDArray[np.bool_]
Words = npt.NDArray[np.object_]


def country_standing(latitudes: Numbers, longitudes: Numbers, codes: Texts, reach: float) -> Texts:
    """Where each point stands to the country of its code: "in" it, "near" it (km), in its "zone", or where else.

    Else it is "sea", or the codes that pass there; "" where the code names no country on our map. Kept, for two tests
    ask about the same points.
    """
    codes = np.asarray(codes, "<U12")
    return _remembered(
        *(np.asarray(axis, "float64").tobytes() for axis in (latitudes, longitudes)), codes.tobytes(), reach
    )


@lru_cache(maxsize=1)
def _remembered(north: bytes, east: bytes, texts: bytes, reach: float) -> Texts:
    latitudes, longitudes, codes = np.frombuffer(north), np.frombuffer(east), np.frombuffer(texts, "<U12")
    here = found(latitudes, longitudes)
    said = _elsewhere(here, world().claims)
    for code, asked in _grouped(codes):
        if code == HIGH_SEAS:
            said[asked] = _on_high_seas(latitudes[asked], longitudes[asked], said[asked])
            continue
        accepted = accepts("countries", code)
        if not accepted.any():
            said[asked] = ""
            continue
        is_in = (here.shapes[asked] >= 0) & accepted[here.shapes[asked]]
        said[asked[is_in]] = "in"
        away = asked[~is_in]
        sea, land = away[here.is_sea[away]], away[~here.is_sea[away]]
        lines = lines_of("countries", code)
        said[land[_is_near(lines, latitudes[land], longitudes[land], reach)]] = "near"
        said[sea[is_within(lines, latitudes[sea], longitudes[sea], ZONE_KM)]] = "zone"
    return said.astype(str)


def state_standing(latitudes: Numbers, longitudes: Numbers, codes: Texts, reach: float) -> Texts:
    """Where each point stands to the states of its codes: "in" one, "near" one (km), at "sea", or the state there.

    "?" where our map has no code for what lies there, "" where it has no shape for the codes.
    """
    here = found(latitudes, longitudes)
    said = _elsewhere(here, np.where(world().states == "", "?", world().states))
    for code, asked in _grouped(codes):
        accepted = accepts("states", code)
        if not accepted.any():
            said[asked] = ""
            continue
        is_in = (here.shapes[asked] >= 0) & accepted[here.shapes[asked]]
        said[asked[is_in]] = "in"
        away = asked[~is_in]
        is_near = _is_near(lines_of("states", code), latitudes[away], longitudes[away], reach)
        said[away[is_near]] = "near"
    return said.astype(str)


def on_land_of(latitudes: Numbers, longitudes: Numbers, codes: Texts) -> Flags:
    """Whether each point lies on the land of the country of its code, or just off its shore."""
    is_on = np.zeros(len(codes), dtype=bool)
    groups = [(accepts("countries", code), asked) for code, asked in _grouped(codes)]
    for code, asked in _grouped(codes):
        # Most turned points fall far from the country: asked about only where a part of it may lie.
        row, column = _cells(latitudes[asked], longitudes[asked])
        is_on[asked] = _touched(code)[row, column]
    maybe = np.flatnonzero(is_on)
    shapes = np.full(len(codes), -1)
    shapes[maybe] = found(latitudes[maybe], longitudes[maybe]).shapes if len(maybe) else -1
    for accepted, asked in groups:
        is_on[asked] = (shapes[asked] >= 0) & accepted[shapes[asked]]
    return is_on


def country_here(latitudes: Numbers, longitudes: Numbers, reach: float) -> Texts:
    """The one country at each point; "XZ" on the high seas, "sea" nearer the land, and else every code that may be.

    They stand with blanks between; several where more than one passes or a border is nearer than `reach` km.
    """
    here = found(latitudes, longitudes)
    said = _elsewhere(here, world().claims)
    sea = np.flatnonzero(here.shapes < 0)
    said[sea[~is_within(_all_lines(), latitudes[sea], longitudes[sea], ZONE_KM)]] = HIGH_SEAS
    for code, asked in _grouped(
        np.where((here.shapes >= 0) & _settled()[here.shapes], world().countries[here.shapes], "")
    ):
        said[asked] = code
        points, shapes = _neighbours(code, latitudes[asked], longitudes[asked], reach)
        said[asked[points]] = [f"{code} {claims.strip()}" for claims in world().claims[shapes].tolist()]
    return said.astype(str)


def is_within(lines: Outlines, latitudes: Numbers, longitudes: Numbers, reach: float) -> Flags:
    """Whether an outline lies within so many km of each point; the quick way for a reach of hundreds of km."""
    if not len(latitudes):
        return np.zeros(0, dtype=bool)
    knots = lines.pieces[lines.knots.nearest(shapely.points(longitudes, latitudes)), 0]
    _, _, metres = GEOD.inv(longitudes, latitudes, knots[:, 0], knots[:, 1])
    is_in = np.asarray(metres) <= reach * 1000
    rest = np.flatnonzero(~is_in)
    if len(rest):
        boxes = boxes_round(latitudes[rest], longitudes[rest], np.full(len(rest), reach)).ravel()
        rest = rest[np.unique(lines.tree.query(boxes)[0] % len(rest))]
        is_in[rest] = nearest(lines, latitudes[rest], longitudes[rest]).km <= reach
    return is_in


def _grouped(codes: Texts) -> Iterator[tuple[str, Whole]]:
    different, which = np.unique(codes, return_inverse=True)
    order = np.argsort(which, kind="stable")
    ends = np.cumsum(np.bincount(which, minlength=len(different)))
    for code, asked in zip(different.tolist(), np.split(order, ends[:-1]), strict=True):
        if code:
            yield code, asked


def _elsewhere(here: Found, texts: Texts) -> Words:
    words = np.char.strip(texts).astype(object)
    return np.where(here.is_sea & (here.shapes < 0), "sea", words[here.shapes]).astype(object)


def _is_near(lines: Outlines, latitudes: Numbers, longitudes: Numbers, reach: float) -> Flags:
    return near(lines, latitudes, longitudes, reach).owners >= 0


def _on_high_seas(latitudes: Numbers, longitudes: Numbers, said: Words) -> Words:
    """At sea and off every coast, or else where the point lies; how far zones reach we do not know."""
    is_far = np.zeros(len(said), dtype=bool)
    sea = np.flatnonzero(said == "sea")
    if len(sea):
        is_far[sea] = ~np.isfinite(to_land(latitudes[sea], longitudes[sea], TERRITORIAL_KM)[0])
    return np.where(is_far, "in", said).astype(object)


def _neighbours(code: str, latitudes: Numbers, longitudes: Numbers, reach: float) -> tuple[Whole, Whole]:
    """The points of a country that lie within so many km of another one, and the shape there."""
    boxes = boxes_round(latitudes, longitudes, np.full(len(latitudes), reach)).ravel()
    points, shapes = world().layer.tree.query(boxes)
    is_other = ~accepts("countries", code)[shapes]
    asked = np.unique(points[is_other] % len(latitudes))
    which = np.zeros(len(world().states), dtype=bool)
    which[shapes[is_other]] = True
    if not len(asked):
        return asked, asked
    close = near(outlines_of(world().layer, which), latitudes[asked], longitudes[asked], reach)
    return asked[close.owners >= 0], close.owners[close.owners >= 0]


@cache
def _all_lines() -> Outlines:
    return outlines_of(world().layer, np.ones(len(world().states), dtype=bool))


@cache
def _settled() -> Flags:
    """The shapes of one country of ISO 3166, or of one with a larger country that nobody disputes."""
    told = {line["shape"]: line["why"] for line in table("boundaries/codes.csv")}
    lines = world().layer.lines
    whys = [f"{told.get(line[0], '')} {told.get(line[3], '')}" for line in lines]
    is_disputed = np.array(["disputed" in why or "reaches into" in why for why in whys])
    return np.asarray(~is_disputed & (world().countries != ""), dtype=bool)


def _cells(latitudes: Numbers, longitudes: Numbers) -> tuple[Whole, Whole]:
    return ((latitudes + 91).astype("int64"), (longitudes + 181).astype("int64"))


@lru_cache(maxsize=512)
def _touched(code: str) -> Flags:
    """The square degrees in and beside which a part of the country may lie."""
    cells = np.zeros((183, 363), dtype=bool)
    parts = shapely.get_parts(world().layer.shapes[accepts("countries", code)])
    low, high = shapely.bounds(parts)[:, :2], shapely.bounds(parts)[:, 2:]
    for (west, south), (east, north) in zip(low.astype(float).tolist(), high.astype(float).tolist(), strict=True):
        cells[int(south + 91) - 1 : int(north + 91) + 2, int(west + 181) - 1 : int(east + 181) + 2] = True
    return cells
