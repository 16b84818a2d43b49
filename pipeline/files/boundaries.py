"""Which country and state lie at a point, from the packed public-domain boundaries."""

from __future__ import annotations

import io
import json
from functools import cache
from typing import NamedTuple

import numpy as np
import numpy.typing as npt
import shapely
from pyproj import Geod

from pipeline.files.schemas import packed
from pipeline.values.atlas import Atlas

GEOD = Geod(ellps="WGS84")
NEAR_SHORE_DEGREES = 0.03  # about 2-3 km: harbours lie "at sea" in generalised coast lines


class Boundaries(NamedTuple):
    """The world's states and provinces: shapes, and their ISO 3166-1 and 3166-2 codes."""

    tree: shapely.STRtree
    shapes: npt.NDArray[np.object_]
    countries: npt.NDArray[np.str_]
    states: npt.NDArray[np.str_]


@cache
def boundaries() -> Boundaries:
    """The boundaries, read once a run."""
    box = np.load(io.BytesIO(packed("boundaries/ne10m_admin1.npz.xz")))
    steps = np.ascontiguousarray(box["xy"].transpose(0, 2, 1)).view("<i4")[:, :, 0]
    degrees = np.ascontiguousarray(np.cumsum(steps, axis=1, dtype=np.int64).T / 1e5)
    offsets = (box["o0"], box["o1"], box["o2"])
    shapes = shapely.from_ragged_array(shapely.GeometryType.MULTIPOLYGON, degrees, offsets)
    torn = ~shapely.is_valid(shapes)
    shapes[torn] = shapely.make_valid(shapes[torn])
    meta = json.loads(box["meta"].tobytes())
    shapely.prepare(shapes)
    return Boundaries(
        shapely.STRtree(shapes),
        shapes,
        np.array([line[0] or "" for line in meta]),
        np.array([line[3] or "" for line in meta]),
    )


def country_at(latitudes: npt.NDArray[np.float64], longitudes: npt.NDArray[np.float64]) -> npt.NDArray[np.str_]:
    """The two-letter code of the country at each point, "" at sea; a point just off a shore counts as on it."""
    found = np.zeros(len(latitudes), dtype="<U2")
    on_globe = (np.abs(latitudes) <= 90) & (np.abs(longitudes) <= 180)
    asked = np.flatnonzero(on_globe)
    if not len(asked):
        return found
    world = boundaries()
    points = shapely.points(longitudes[asked], latitudes[asked])
    pairs = world.tree.query(points)
    inside = shapely.intersects_xy(world.shapes[pairs[1]], longitudes[asked][pairs[0]], latitudes[asked][pairs[0]])
    found[asked[pairs[0][inside]]] = world.countries[pairs[1][inside]]
    at_sea = np.flatnonzero(found[asked] == "")
    if len(at_sea):
        near = world.tree.query_nearest(points[at_sea], max_distance=NEAR_SHORE_DEGREES, all_matches=False)
        found[asked[at_sea[near[0]]]] = world.countries[near[1]]
    return np.where(found == "-1", "", found)


def km_outside(
    latitudes: npt.NDArray[np.float64], longitudes: npt.NDArray[np.float64], countries: npt.NDArray[np.str_]
) -> npt.NDArray[np.float64]:
    """How many km each point lies outside the country named beside it, along the ellipsoid; missing where unknown."""
    world, km = boundaries(), np.full(len(latitudes), np.nan)
    for country in np.unique(countries):
        shapes = world.shapes[world.countries == country]
        which = np.flatnonzero((countries == country) & (np.abs(latitudes) <= 90) & (np.abs(longitudes) <= 180))
        if not len(shapes) or not len(which):
            continue
        points = shapely.points(longitudes[which], latitudes[which])
        nearest = shapely.STRtree(shapes).nearest(points)
        ends = shapely.get_coordinates(shapely.shortest_line(points, shapes[nearest])).reshape(-1, 2, 2)
        _, _, metres = GEOD.inv(ends[:, 0, 0], ends[:, 0, 1], ends[:, 1, 0], ends[:, 1, 1])
        km[which] = np.asarray(metres) / 1000
    return km


ATLAS = Atlas(country_at, km_outside)
