"""Reads the packed public-domain boundaries: shapes, their codes, and which names pass at a point."""

from __future__ import annotations

import io
import json
from functools import cache
from typing import Any, NamedTuple

import numpy as np
import numpy.typing as npt
import shapely

from pipeline.files.schemas import packed, table

Texts = npt.NDArray[np.str_]
Whole = npt.NDArray[np.int64]
TORN = {"ne10m_admin1": "IT-GO"}  # the one shape that rounding left crossing itself; a test looks at all the others
UNCLEAR = "unclear"  # of areas that several countries claim: we do not choose
NONE = "none"


class Layer(NamedTuple):
    """The shapes of one file, with their corners as they stand in it."""

    shapes: npt.NDArray[np.object_]
    tree: shapely.STRtree
    corners: npt.NDArray[np.float64]  # longitude, latitude
    rings: Whole  # where each ring begins among the corners, and at last where the last one ends
    owners: Whole  # the shape of each ring
    lines: list[list[Any]]  # what is said of each shape


class World(NamedTuple):
    """The world's states and provinces, and their codes of today; a blank code is not known or not settled."""

    layer: Layer
    countries: Texts  # ISO 3166-1
    claims: Texts  # every country code that is not wrong there, between blanks
    states: Texts  # ISO 3166-2
    parts: Texts  # ISO 3166-2 of the larger division that the shape is a part of


class Counties(NamedTuple):
    """The counties of the United States: codes of five digits, names, and the state of each."""

    layer: Layer
    fips: Texts
    names: Texts
    states: Texts


@cache
def layer(name: str) -> Layer:
    """A file of `schemas/boundaries/`, read once a run."""
    box = np.load(io.BytesIO(packed(f"boundaries/{name}.npz.xz")))
    steps = np.ascontiguousarray(box["xy"].transpose(0, 2, 1)).view("<i4")[:, :, 0]
    corners = np.ascontiguousarray(np.cumsum(steps, axis=1, dtype=np.int64).T / 1e5)
    rings, polygons, several = (box[offsets].astype("int64") for offsets in ("o0", "o1", "o2"))
    shapes = shapely.from_ragged_array(shapely.GeometryType.MULTIPOLYGON, corners, (rings, polygons, several))
    lines = json.loads(box["meta"].tobytes())
    torn = np.array([TORN.get(name, NONE) in line for line in lines])
    shapes[torn] = shapely.make_valid(shapes[torn])
    shapely.prepare(shapes)
    owners = np.repeat(np.arange(len(lines)), np.diff(polygons[several]))
    return Layer(shapes, shapely.STRtree(shapes), corners, rings, owners, lines)


@cache
def world() -> World:
    """The states and provinces, their older codes brought to those of today by `codes.csv`."""
    known = layer("ne10m_admin1")
    told = {line["shape"]: line for line in table("boundaries/codes.csv")}
    codes = [_codes(line[0], line[3], told) for line in known.lines]
    return World(known, *(np.array(column) for column in zip(*codes, strict=True)))


def _codes(country: str, code: str, told: dict[str, dict[str, str]]) -> tuple[str, str, str, str]:
    """Country, claims, state and part of a shape."""
    of_shape, of_country = told.get(code, {}), told.get(country, {})
    main = of_shape.get("country") or country
    also = f"{of_shape.get('also', '')} {of_country.get('also', '')}".split()
    state = of_shape.get("state") or ("" if code.endswith("~") else code)
    main = "" if main == UNCLEAR else main
    claims = " ".join(dict.fromkeys([main, *also] if main else also))
    return main, f" {claims} ", "" if state == NONE else state, of_shape.get("part_of", "")


def accepts(level: str, code: str) -> npt.NDArray[np.bool_]:
    """The shapes that lie in the country of this code, or in a state or larger division of these codes."""
    known = world()
    if level == "countries":
        return np.char.find(known.claims, f" {code} ") >= 0
    codes = code.split()
    return np.isin(known.states, codes) | np.isin(known.parts, codes)


@cache
def counties() -> Counties:
    """The counties of the United States and of its outlying areas."""
    known = layer("us_counties_2017_10m")
    states = {line["fips"]: line["state"] for line in table("boundaries/fips.csv")}
    fips = [line[0] for line in known.lines]
    of_state = [states[code[:2]] for code in fips]
    return Counties(known, np.array(fips), np.array([line[1] for line in known.lines]), np.array(of_state))


def lakes() -> Layer:
    """The world's larger lakes and reservoirs."""
    return layer("ne10m_lakes")


def may_be_lake(latitudes: npt.NDArray[np.float64], longitudes: npt.NDArray[np.float64]) -> npt.NDArray[np.bool_]:
    """Whether the box round a lake touches the quarter of a degree in which each point lies."""
    cells = _lake_cells()
    with np.errstate(invalid="ignore"):
        row, column = ((latitudes + 90) * 4).astype("int64"), ((longitudes + 180) * 4).astype("int64")
    touched: npt.NDArray[np.bool_] = cells[np.clip(row, 0, len(cells) - 1), np.clip(column, 0, cells.shape[1] - 1)]
    return touched


@cache
def _lake_cells() -> npt.NDArray[np.bool_]:
    cells = np.zeros((180 * 4 + 1, 360 * 4 + 1), dtype=bool)
    boxes = (shapely.bounds(lakes().shapes) + np.array([180, 90, 180, 90])) * 4
    for west, south, east, north in boxes.astype("int64").tolist():
        cells[south : north + 1, west : east + 1] = True
    return cells


def shape_at(known: Layer, latitudes: npt.NDArray[np.float64], longitudes: npt.NDArray[np.float64]) -> Whole:
    """The first shape in which each point lies, -1 for none."""
    found = np.full(len(latitudes), -1, dtype="int64")
    if len(latitudes):
        points, shapes = known.tree.query(shapely.points(longitudes, latitudes))
        inside = shapely.intersects_xy(known.shapes[shapes], longitudes[points], latitudes[points])
        found[points[inside][::-1]] = shapes[inside][::-1]
    return found
