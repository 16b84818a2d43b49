"""What in a finished table tells of a person: its words, its exact points, the records of children in it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from typing import Any

import numpy as np
import numpy.typing as npt
import pyarrow as pa
import pyarrow.compute as pc

from pipeline.files.seen_by_looking import CHILD, EXACT_DECIMALS, NAME, POINT, Found, Known, add, found_in_text

PARTICIPANT = "participant"
HOME_KM, KM_PER_DEGREE = 0.5, 111.2
NEAR_HOME, THOUGH_ROUNDED, MORE = "NEAR A HOME", "BESIDE A ROUNDED POINT", "... more"
SHOWN = 10  # of a kind told one by one
SQUARE = 0.01  # degrees
PACK = np.array([100_000.0, 1.0])  # a square's two numbers as one
PLACE_COLUMNS = ("organismName", "recordedBy", "decimalLatitude", "decimalLongitude", "dataGeneralizations", "locality",
                 "municipality")  # fmt: skip
# Points are looked at as points; how fine they are, and what a measure says, tells of no place.
NOT_WORDS = frozenset({
    "decimalLatitude", "decimalLongitude", "verbatimLatitude", "verbatimLongitude", "license", "organismName",
    "measurementValue", "coordinatePrecision", "coordinateUncertaintyInMeters",
})  # fmt: skip


def found_in_table(batches: Iterable[pa.RecordBatch], known: Known) -> Found:
    """The same of a table: each different cell is looked at once; points and children row by row."""
    found: Found = Counter()
    seen: dict[str, Found] = {}
    for batch in batches:
        columns = dict(zip(batch.schema.names, batch.columns, strict=True))
        for name, column in columns.items():
            if name.endswith("ID") or name in NOT_WORDS:
                continue
            times = np.bincount(column.indices.to_numpy(), minlength=len(column.dictionary))
            for text, count in zip(column.dictionary.to_pylist(), times.tolist(), strict=True):
                if count and text:
                    if text not in seen:
                        seen[text] = _of_cell(name, text, known)
                    add(found, seen[text], count)
        if {"decimalLatitude", "decimalLongitude"} <= set(columns):
            _points(columns, known, found)
        if "occurrenceID" in columns and known.children:
            _children(columns, known.children, found)
    return found


def _of_cell(column: str, text: str, known: Known) -> Found:
    if column == "recordedBy":
        return Counter() if text == PARTICIPANT else Counter({(NAME, text): 1})
    has_letters, has_digits = any(map(str.isalpha, text)), any(map(str.isdigit, text))
    return found_in_text(text, known) if has_letters or (has_digits and len(text) > 4) else Counter()


def _points(columns: Mapping[str, Any], known: Known, found: Found) -> None:
    """Points that are written finely and not rounded; one near a home on file is always told."""
    latitude, longitude = (columns[f"decimal{axis}"].cast(pa.string()) for axis in ("Latitude", "Longitude"))
    fine = pc.and_(*(pc.match_substring_regex(one, rf"\.\d{{{EXACT_DECIMALS},}}$") for one in (latitude, longitude)))
    if "georeferenceSources" in columns:  # the middle of a town tells of nobody's place
        fine = pc.and_(fine, pc.equal(columns["georeferenceSources"].cast(pa.string()), ""))
    if "dataGeneralizations" in columns:
        is_whole = pc.equal(columns["dataGeneralizations"].cast(pa.string()), "")
        fine = pc.and_(fine, is_whole)
        for name in ("verbatimLatitude", "verbatimLongitude"):  # a rounded point with its exact one beside it
            told = (
                pc.filter(columns[name].cast(pa.string()), pc.invert(is_whole)).to_pylist() if name in columns else []
            )
            found.update((POINT, f"{text} {THOUGH_ROUNDED}") for text in told if text)
    north, east = (pc.filter(one, fine) for one in (latitude, longitude))
    if not len(north):
        return
    degrees = np.column_stack([one.cast(pa.float64()).to_numpy(zero_copy_only=False) for one in (north, east)])
    near = _near_home(degrees, known.homes)
    for at in np.flatnonzero(near):
        found[POINT, f"{north[at]}, {east[at]} {NEAR_HOME}"] += 1
    far = np.flatnonzero(~near)
    _note(found, POINT, (f"{north[at]}, {east[at]}" for at in far[:SHOWN]), len(far))


def _note(found: Found, kind: str, some: Iterable[str], count: int) -> None:
    """Counts all of them and tells the first few: a million points would fill no page that anybody reads."""
    told = sum(1 for key, text in found if key == kind and text != MORE)
    for text in some:
        if told >= SHOWN and (kind, text) not in found:
            break
        told += (kind, text) not in found
        found[kind, text] += 1
        count -= 1
    if count:
        found[kind, MORE] += count


def _near_home(points: npt.NDArray[np.float64], homes: tuple[tuple[float, float], ...]) -> npt.NDArray[np.bool_]:
    """Which points lie near a home; only those in the squares round the homes are measured."""
    near = np.zeros(len(points), dtype=bool)
    if not homes:
        return near
    at_home = np.array(homes)
    steps = [(north, east) for north in range(-1, 2) for east in range(-3, 4)]  # up to 80 degrees of latitude
    squares = np.floor(at_home[:, None, :] / SQUARE) + np.array(steps)[None, :, :]
    mine = np.floor(points / SQUARE)
    candidates = np.flatnonzero(np.isin(mine @ PACK, (squares @ PACK).ravel()))
    for at in candidates:
        apart = at_home - points[at]
        apart[:, 1] *= np.cos(np.radians(points[at, 0]))
        near[at] = bool((np.hypot(apart[:, 0], apart[:, 1]) * KM_PER_DEGREE <= HOME_KM).any())
    return near


def _children(columns: Mapping[str, Any], children: Iterable[str], found: Found) -> None:
    """The records of children, some of them as a reader sees them."""
    is_child = pc.is_in(columns["occurrenceID"].cast(pa.string()), value_set=pa.array(sorted(children)))
    shown = [
        pc.filter(columns[name].cast(pa.string()), is_child).to_pylist() for name in PLACE_COLUMNS if name in columns
    ]
    lines = [", ".join(filter(None, line)) for line in zip(*shown, strict=True)]
    _note(found, CHILD, lines[:SHOWN], len(lines))
