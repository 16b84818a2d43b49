"""How far a place may lie from the point that was written, after Chapman & Wieczorek 2020.

Georeferencing Best Practices 1.0, doi 10.15468/doc-gg7h-s853. Degrees and metres; arrays in, arrays out.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import cache
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from pipeline.values.grid import read_point

Numbers = npt.NDArray[np.float64]
Texts = npt.NDArray[np.object_]

# Axes of the WGS84 ellipsoid: half the equator's diameter in metres, and its flattening (EPSG 7030).
EQUATOR_RADIUS = 6378137.0
FLATTENING = 1 / 298.257223563
LARGEST = 20_037_509  # half the equator in metres, rounded up: no place lies farther from a point

_NUMBER = re.compile(r"\d+(?:[.,]\d+)?")
_SYSTEMS = {1: "decimal degrees", 2: "degrees decimal minutes", 3: "degrees minutes seconds"}


class Notation(NamedTuple):
    """How finely an axis was written: the step in degrees (0 if not known) and the name of the notation."""

    step: float
    system: str
    side: float = 0.0  # metres of the square of a grid, 0 for none


class Fineness(NamedTuple):
    """How finely points were written: degrees (0 if not known), the notation, metres of the square of a grid."""

    step: Numbers
    system: Texts
    side: Numbers


@cache
def notation(written: str, is_pair: bool = False) -> Notation:
    """The notation of a written latitude or longitude, or of a pair of both in one cell.

    >>> notation("45.50")
    Notation(step=0.01, system='decimal degrees', side=0.0)
    >>> notation("45°30'N").step == 1 / 60
    True
    >>> round(notation("45°30'12.5\\"").step * 36000)
    1
    >>> notation("45.5, -64.81", is_pair=True).step, notation("somewhere").step
    (0.1, 0)
    """
    if is_pair and (point := read_point(written)):
        system = "decimal degrees" if point.system in ("geo URI", "map link") else point.system
        return Notation(point.step, system, point.side)
    numbers = _NUMBER.findall(written)
    axes = [numbers]
    if is_pair:
        # "45.5, -64.8" and "45,5 -64,8" both give two numbers: a comma joins digits only inside a number.
        half, odd = divmod(len(numbers), 2)
        axes = [] if odd else [numbers[:half], numbers[half:]]
    if not axes or not all(1 <= len(axis) <= 3 and _is_angle(axis) for axis in axes):
        return Notation(0, "")
    return Notation(max(_step(axis) for axis in axes), _SYSTEMS[len(axes[0])])


def _is_angle(numbers: list[str]) -> bool:
    values = [float(number.replace(",", ".")) for number in numbers]
    return values[0] <= 180 and all(value <= 60 for value in values[1:])


def _step(numbers: list[str]) -> float:
    last = numbers[-1].replace(",", ".")
    decimals = len(last.partition(".")[2])
    return float(10.0**-decimals / 60.0 ** (len(numbers) - 1))


def steps(decimals: tuple[Numbers, Numbers], written: tuple[Sequence[str] | Texts, Sequence[str] | Texts]) -> Fineness:
    """The step of each point, the coarser axis deciding, its notation and the side of its square.

    `decimals` of latitude and longitude where they were written as plain numbers, else missing; the same
    text in both cells of `written` is a pair in one cell.
    """
    step = 10.0 ** -np.fmin(*decimals)
    system, side = np.full(len(step), _SYSTEMS[1], dtype=object), np.zeros(len(step))
    rest = np.flatnonzero(np.isnan(decimals[0]) | np.isnan(decimals[1]))
    latitudes, longitudes = (np.asarray(texts, dtype=object)[rest].tolist() for texts in written)
    pairs = list(zip(latitudes, longitudes, strict=True))
    known = {pair: _of_pair(*pair) for pair in set(pairs)}
    step[rest] = [known[pair].step for pair in pairs]
    system[rest] = [known[pair].system for pair in pairs]
    side[rest] = [known[pair].side for pair in pairs]
    return Fineness(step, system, side)


def _of_pair(latitude: str, longitude: str) -> Notation:
    if latitude == longitude:
        return notation(latitude, is_pair=True)
    one, other = notation(latitude), notation(longitude)
    if not one.step or not other.step:
        return Notation(0, "")
    return max(one, other)


def metres_per_degree(latitude: Numbers) -> tuple[Numbers, Numbers]:
    """Metres in a degree of latitude and of longitude, on WGS84."""
    radians = np.radians(latitude)
    squared = FLATTENING * (2 - FLATTENING)
    narrowing = 1 - squared * np.sin(radians) ** 2
    meridian = EQUATOR_RADIUS * (1 - squared) / narrowing**1.5
    parallel = EQUATOR_RADIUS / np.sqrt(narrowing) * np.cos(radians)
    return np.radians(meridian), np.radians(parallel)


def from_step(step: Numbers, latitude: Numbers) -> Numbers:
    """Metres of uncertainty that come from the whole step with which a point was written (degrees)."""
    north, east = metres_per_degree(latitude)
    return np.hypot(north * step, east * step)


def half_diagonal(square: float | Numbers, latitude: Numbers) -> Numbers:
    """Metres from the middle of a square (degrees) to its corner."""
    return from_step(np.broadcast_to(square, latitude.shape), latitude) / 2


def from_written(written: Fineness, latitude: Numbers) -> Numbers:
    """Metres that come from how finely a point was written: half the diagonal of the square of a grid, else its step.

    Missing where that is not known.
    """
    known_step = np.where(written.step > 0, written.step, np.nan)
    return np.where(written.side > 0, written.side / np.sqrt(2), from_step(known_step, latitude))


def radius(from_writing: Numbers, stated: Numbers, receiver: float, datum: Numbers) -> Numbers:
    """Metres round a point: those stated, else of its writing and the receiver, rounded up, and those of its datum.

    Missing where neither is known; a stated 0, or more than half the equator, is not a statement. The terms are added
    up, not squared: our proposal, on the safe side.
    """
    is_stated = (stated > 0) & (stated <= LARGEST)
    worked_out = np.ceil(np.round(from_writing + receiver + datum, 6))
    widened = np.where(datum > 0, np.ceil(stated + datum), stated)
    return np.clip(np.where(is_stated, widened, worked_out), 1, LARGEST)


def precision_text(step: float) -> str:
    """A step in degrees as coordinatePrecision writes it.

    >>> [precision_text(step) for step in (1, 0.00001, 1 / 60, 1 / 3600, 1 / 36000)]
    ['1.0', '0.00001', '0.01667', '0.000278', '0.0000278']
    """
    if step <= 0:
        return ""
    tenths, of_minute = np.log10(step), np.log10(step * 60)
    if abs(tenths - round(tenths)) < 1e-9:
        return "1.0" if step >= 1 else f"{step:.{-round(tenths)}f}"
    digits = 4 if abs(of_minute - round(of_minute)) < 1e-9 else 3  # as the standard writes 0.01667 and 0.000278
    return np.format_float_positional(float(f"{step:.{digits - 1}e}"), trim="-")
