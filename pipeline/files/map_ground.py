"""The ground of the season's map: land, lakes and borders in an equal-area projection, as SVG paths."""

from __future__ import annotations

import io
from collections.abc import Iterable, Sequence
from functools import cache
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from pipeline.files.boundary_layers import Layer, lakes, world
from pipeline.files.outlines import clipped
from pipeline.files.schemas import packed

Numbers = npt.NDArray[np.float64]
GLOBE_KM = 6371.007181  # radius of the sphere with the area of WGS84
WIDTH = 880  # of the drawing
CLOSE_KM = 900.0  # from side to side; closer, the boundaries are drawn as finely as we have them
EDGE = 8  # round the drawing, for lines that run along it
STATES_TO_KM = 8.0  # to a unit of the drawing; where more lies in it, states are too small to be drawn
BEHIND = 1.85  # of 2, the rim of the projection: what lies near the far side of the globe is torn
LAND, STATE, BORDER, LAKE = range(4)
KINDS = ((LAND, "land"), (LAKE, "lake"), (BORDER, "border"), (STATE, "state"))


class View(NamedTuple):
    """Where the drawing looks: its middle in degrees, kilometres to a unit of the drawing, and its sides."""

    latitude: float
    longitude: float
    km: float
    west: float
    north: float
    height: int

    def place(self, latitudes: Numbers, longitudes: Numbers) -> Numbers:
        """Where points lie on the drawing, right and down from its corner."""
        flat = equal_area(latitudes, longitudes, (self.latitude, self.longitude)) * GLOBE_KM
        return np.column_stack([flat[:, 0] - self.west, self.north - flat[:, 1]]) / self.km


class Outline(NamedTuple):
    """The simplified boundaries: lines of corners (longitude, latitude), and what each line is."""

    corners: Numbers
    ends: npt.NDArray[np.int64]
    kinds: npt.NDArray[np.uint8]


def equal_area(latitudes: Numbers, longitudes: Numbers, middle: tuple[float, float]) -> Numbers:
    """Lambert's azimuthal equal-area projection on a globe of radius 1 (Snyder 1987, USGS PP 1395, p. 185)."""
    north, turn = np.radians(latitudes), np.radians(np.asarray(longitudes) - middle[1])
    centre = np.radians(middle[0])
    cosine = np.sin(centre) * np.sin(north) + np.cos(centre) * np.cos(north) * np.cos(turn)
    scale = np.sqrt(2 / np.maximum(1 + cosine, 1e-9))
    upward = np.cos(centre) * np.sin(north) - np.sin(centre) * np.cos(north) * np.cos(turn)
    return np.column_stack([scale * np.cos(north) * np.sin(turn), scale * upward])


@cache
def _outline() -> Outline:
    box = np.load(io.BytesIO(packed("boundaries/drawing.npz.xz")))
    steps = np.ascontiguousarray(box["xy"].transpose(0, 2, 1)).view("<i4")[:, :, 0]
    return Outline(np.cumsum(steps, axis=1, dtype=np.int64).T / 1e5, box["ends"].astype("int64"), box["kinds"])


def ground(view: View) -> Iterable[str]:
    """Land, lakes and borders, as far as they lie in view."""
    outline = _fine(view) if view.km * WIDTH < CLOSE_KM else _outline()
    placed = view.place(outline.corners[:, 1], outline.corners[:, 0])
    begins = outline.ends[:-1]
    is_behind = np.hypot(*(placed * view.km + [view.west, -view.north]).T) > BEHIND * GLOBE_KM
    low, high = np.minimum.reduceat(placed, begins), np.maximum.reduceat(placed, begins)
    in_view = (high >= 0).all(axis=1) & (low <= [WIDTH, view.height]).all(axis=1)
    in_view &= ~np.maximum.reduceat(is_behind, begins)
    box = (-EDGE, -EDGE, WIDTH + EDGE, view.height + EDGE)
    for kind, name in KINDS if view.km < STATES_TO_KM else KINDS[:-1]:
        which = np.flatnonzero(in_view & (outline.kinds == kind))
        is_ring = kind in (LAND, LAKE)
        lines = clipped([placed[outline.ends[at] : outline.ends[at + 1]] for at in which.tolist()], box, is_ring)
        yield f'<path class="{name}" d="{"".join(_path(line, is_ring) for line in lines)}"/>'


def _fine(view: View) -> Outline:
    """The boundaries as they are, of what may lie in view."""
    reach = np.hypot(WIDTH, view.height) / 2 * view.km / 100  # degrees of latitude, rather too many
    wide = reach / max(np.cos(np.radians(min(abs(view.latitude) + reach, 85))), 0.05)
    box = (view.longitude - wide, view.latitude - reach, view.longitude + wide, view.latitude + reach)
    parts = [(LAND, ring) for ring in _rings(world().layer, box)] + [(LAKE, ring) for ring in _rings(lakes(), box)]
    if not parts:
        return _outline()
    ends = np.cumsum([0, *(len(ring) for _, ring in parts)])
    return Outline(np.concatenate([ring for _, ring in parts]), ends, np.array([kind for kind, _ in parts], "uint8"))


def _rings(known: Layer, box: tuple[float, float, float, float]) -> Sequence[Numbers]:
    ends = known.rings
    low, high = (measure.reduceat(known.corners, ends[:-1]) for measure in (np.minimum, np.maximum))
    in_box = (low <= [box[2], box[3]]).all(axis=1) & (high >= [box[0], box[1]]).all(axis=1)
    return [known.corners[ends[at] : ends[at + 1]] for at in np.flatnonzero(in_box).tolist()]


def _path(line: Numbers, is_ring: bool) -> str:
    """A line in whole units of the drawing, without the corners that fall together or on a straight side."""
    whole = np.round(line).astype("int64")
    steps = np.diff(whole, axis=0)
    moves = steps[(steps != 0).any(axis=1)]
    if len(moves) < (2 if is_ring else 1):
        return ""
    across = moves[1:, 0] * moves[:-1, 1] - moves[1:, 1] * moves[:-1, 0]
    turns = np.append(True, (across != 0) | ((moves[1:] * moves[:-1]).sum(axis=1) < 0))
    moves = np.add.reduceat(moves, np.flatnonzero(turns))
    way = "".join(f"{right} {down} " for right, down in moves.tolist())
    return f"M{whole[0, 0]} {whole[0, 1]}l{way.rstrip()}{'z' if is_ring else ''}"
