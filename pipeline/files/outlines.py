"""How far points lie from borders and shores: metres on the ellipsoid, also across 180 degrees."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
import numpy.typing as npt
import shapely
from pyproj import Geod

from pipeline.files.boundary_layers import Layer, Whole
from pipeline.values.uncertainty import metres_per_degree

Numbers = npt.NDArray[np.float64]
GEOD = Geod(ellps="WGS84")
PIECE = 32  # sides of an outline that share a box
AT_ONCE, MANY_AT_ONCE = 512, 10_000  # points
FAR = 1000e3  # metres; beyond, the corners at the ends of the pieces are near enough
KM_PER_DEGREE = 110.0  # of latitude, at the least
WIDER = 1.02  # a degree is not equally long all over a box


class Outlines(NamedTuple):
    """The outlines of some shapes, cut into short pieces."""

    pieces: Numbers  # by piece: its corners, longitude and latitude, the last one repeated
    owners: Whole  # the shape of each piece
    knots: shapely.STRtree  # of the first corner of each piece
    boxes: Numbers  # round the pieces: west, south, east, north
    tree: shapely.STRtree  # of these boxes


class Nearest(NamedTuple):
    """The nearest place on an outline: how far, and whose it is."""

    km: Numbers
    owners: Whole


def outlines_of(known: Layer, which: npt.NDArray[np.bool_]) -> Outlines:
    """The outlines of those shapes of a layer."""
    is_asked = which[known.owners]
    begins, ends = known.rings[:-1][is_asked], known.rings[1:][is_asked] - 1
    counts = -(-(ends - begins) // PIECE)
    within = np.arange(counts.sum()) - np.repeat(np.cumsum(counts) - counts, counts)
    first = np.repeat(begins, counts) + within * PIECE
    corners = np.minimum(first[:, None] + np.arange(PIECE + 1), np.repeat(ends, counts)[:, None])
    return outlines_from(known.corners[corners], np.repeat(known.owners[is_asked], counts))


def outlines_from(pieces: Numbers, owners: Whole) -> Outlines:
    """Pieces with their boxes and knots."""
    boxes = np.concatenate([pieces.min(axis=1), pieces.max(axis=1)], axis=1)
    knots = shapely.STRtree(shapely.points(pieces[:, 0]))
    return Outlines(pieces, owners, knots, boxes, shapely.STRtree(shapely.box(*boxes.T)))


def together(*several: Outlines) -> Outlines:
    """The outlines of several layers."""
    return outlines_from(
        np.concatenate([lines.pieces for lines in several]), np.concatenate([lines.owners for lines in several])
    )


def boxes_round(latitudes: Numbers, longitudes: Numbers, km: Numbers) -> npt.NDArray[np.object_]:
    """Boxes in degrees that hold all within so many km of each point: as it is, and turned round the globe."""
    high = km / KM_PER_DEGREE
    east = np.cos(np.radians(np.minimum(np.abs(latitudes) + high, 89)))
    wide = np.minimum(high / east, 180)
    return np.array(
        [
            shapely.box(longitudes - wide + turn, latitudes - high, longitudes + wide + turn, latitudes + high)
            for turn in (0, -360, 360)
        ]
    )


def clipped(lines: Sequence[Numbers], box: tuple[float, float, float, float], is_ring: bool) -> list[Numbers]:
    """What of each line, or of the area in each ring, lies in a box (left, low, right, high)."""
    if not lines:
        return []
    shapes = [shapely.Polygon(line) if is_ring else shapely.LineString(line) for line in lines]
    parts = shapely.get_parts(shapely.clip_by_rect(shapes, *box))
    if is_ring:
        parts = shapely.get_rings(parts[shapely.get_dimensions(parts) == 2])
    return [shapely.get_coordinates(part) for part in parts.tolist()]


def nearest(lines: Outlines, latitudes: Numbers, longitudes: Numbers) -> Nearest:
    """The nearest place on the outlines for each point."""
    points = np.column_stack([longitudes, latitudes])
    places, owners = np.empty_like(points), np.full(len(points), -1, dtype="int64")
    for begin in range(0, len(points), AT_ONCE):
        part = slice(begin, begin + AT_ONCE)
        places[part], owners[part] = _nearest(lines, points[part])
    return Nearest(_metres(points, places) / 1000, owners)


def near(lines: Outlines, latitudes: Numbers, longitudes: Numbers, reach: float) -> Nearest:
    """The nearest place on the outlines within a few km of each point; infinite and -1 where there is none."""
    points = np.column_stack([longitudes, latitudes])
    km, owners = np.full(len(points), np.inf), np.full(len(points), -1, dtype="int64")
    for begin in range(0, len(points), MANY_AT_ONCE):
        part = points[begin : begin + MANY_AT_ONCE]
        found, places, own = _closest(lines, part, np.full(len(part), reach * 1000))
        away = _metres(part[found], places) / 1000
        is_near = away <= reach
        km[begin + found[is_near]], owners[begin + found[is_near]] = away[is_near], own[is_near]
    return Nearest(km, owners)


def _nearest(lines: Outlines, points: Numbers) -> tuple[Numbers, Whole]:
    best = lines.knots.nearest(shapely.points(points))  # in degrees: not always the nearest, but never too near
    within = _metres(points, lines.pieces[best, 0])
    far = np.flatnonzero(within >= FAR)
    if len(far):
        best[far] = np.argmax(_on_globe(points[far]) @ _on_globe(lines.pieces[:, 0]).T, axis=1)
        within[far] = _metres(points[far], lines.pieces[best[far], 0])
    places, owners = lines.pieces[best, 0], lines.owners[best]
    asked = np.flatnonzero(within < FAR)
    found, closer, own = _closest(lines, points[asked], within[asked])
    places[asked[found]], owners[asked[found]] = closer, own
    return places, owners


def _closest(lines: Outlines, points: Numbers, metres: Numbers) -> tuple[Whole, Numbers, Whole]:
    """The points with an outline in reach, the nearest place on it, and whose it is."""
    pairs, pieces = _in_reach(lines, points, metres)
    places, away = _on_pieces(points[pairs], lines.pieces[pieces])
    order = np.lexsort((away, pairs))
    found, first = np.unique(pairs[order], return_index=True)
    return found, places[order[first]], lines.owners[pieces[order[first]]]


def _in_reach(lines: Outlines, points: Numbers, metres: Numbers) -> tuple[Whole, Whole]:
    """Points and the pieces that may lie within so many metres, also those across 180 degrees."""
    north, _ = metres_per_degree(points[:, 1])
    high = metres * WIDER / north
    _, east = metres_per_degree(np.minimum(np.abs(points[:, 1]) + high, 89.9))
    wide = np.minimum(metres * WIDER / east, 180)
    found = []
    for turn in (0, -360, 360):
        here = points + np.array([turn, 0])
        low, top = here[:, 0] - wide, here[:, 0] + wide
        asked = np.flatnonzero((low <= 180) & (top >= -180))
        around = shapely.box(low[asked], (here[:, 1] - high)[asked], top[asked], (here[:, 1] + high)[asked])
        of_asked, pieces = lines.tree.query(around)
        pairs, boxes = asked[of_asked], lines.boxes[pieces]
        # A box in the corner of that round the point lies farther away than it looks.
        gaps = np.maximum(np.maximum(boxes[:, :2] - here[pairs], here[pairs] - boxes[:, 2:]), 0)
        is_near = np.hypot(gaps[:, 0] * east[pairs], gaps[:, 1] * north[pairs]) <= metres[pairs] * WIDER
        found.append((pairs[is_near], pieces[is_near]))
    return np.concatenate([one for one, _ in found]), np.concatenate([other for _, other in found])


def _on_pieces(points: Numbers, pieces: Numbers) -> tuple[Numbers, Numbers]:
    """The nearest place on each piece, sides taken as straight in degrees, and roughly how many metres away."""
    away = pieces - points[:, None]
    away[:, :, 0] = (away[:, :, 0] + 180) % 360 - 180
    north, east = metres_per_degree(points[:, 1, None] + away[:, :, 1] / 2)
    flat = away * np.stack([east, north], axis=2)
    side, start = np.diff(flat, axis=1), flat[:, :-1]
    length = np.maximum((side**2).sum(axis=2), 1e-12)
    along = np.clip(-(start * side).sum(axis=2) / length, 0, 1)
    metres = np.hypot(*np.moveaxis(start + along[:, :, None] * side, 2, 0))
    which = np.argmin(metres, axis=1)
    row = np.arange(len(points))
    part = along[row, which][:, None]
    place = away[row, which] * (1 - part) + away[row, which + 1] * part + points
    return place, metres[row, which]


def _metres(points: Numbers, places: Numbers) -> Numbers:
    _, _, metres = GEOD.inv(points[:, 0], points[:, 1], places[:, 0], places[:, 1])
    return np.asarray(metres, dtype="float64")


def _on_globe(points: Numbers) -> npt.NDArray[np.float32]:
    longitude, latitude = np.radians(points).T
    flat = np.cos(latitude)
    return np.column_stack([flat * np.cos(longitude), flat * np.sin(longitude), np.sin(latitude)]).astype("float32")
