"""The open list of the world's towns: where their middles are, and how far their names reach."""

from __future__ import annotations

import io
from collections.abc import Mapping, Sequence
from functools import cache
from typing import Any

import numpy as np

from pipeline.files.schemas import packed
from pipeline.values.towns import Town, town_key

SOURCE = "GeoNames (CC BY 4.0)"
PER_DEGREE = 10_000
STEP_METRES = 100


def towns(countries: Sequence[str], key: str) -> Sequence[Town]:
    """The towns of some countries whose names have a key, else those of which a shorter name has it.

    Nothing is read before the first is asked for.
    """
    known, (full, shorter) = _known(), _places(tuple(sorted(countries)))
    return [_town(known, place) for place in full.get(key) or shorter.get(key) or ()]


@cache
def _known() -> dict[str, Any]:
    with np.load(io.BytesIO(packed("places/towns.npz.xz"))) as arrays:
        known: dict[str, Any] = {name: arrays[name] for name in arrays.files}
    texts = {name: known[name].tobytes().decode().split("\n") for name in ("names", "states", "countries", "also")}
    return known | texts


@cache
def _places(countries: tuple[str, ...]) -> tuple[Mapping[str, list[int]], Mapping[str, list[int]]]:
    """Where in the list the towns of some countries stand, by the key of their name and of a shorter one."""
    known = _known()
    full: dict[str, list[int]] = {}
    shorter: dict[str, list[int]] = {}
    wanted = [number for number, code in enumerate(known["countries"]) if code in countries]
    is_wanted = np.isin(known["of_country"], wanted)
    for place in np.flatnonzero(is_wanted).tolist():
        full.setdefault(town_key(known["names"][place]), []).append(place)
    for number, _, name in (line.partition("\t") for line in known["also"]):
        if is_wanted[int(number)]:
            shorter.setdefault(town_key(name), []).append(int(number))
    return full, shorter


def _town(known: dict[str, Any], place: int) -> Town:
    return Town(
        name=known["names"][place],
        state=known["states"][known["of_state"][place]],
        country=known["countries"][known["of_country"][place]],
        latitude=int(known["latitude"][place]) / PER_DEGREE,
        longitude=int(known["longitude"][place]) / PER_DEGREE,
        metres=float(known["hundreds"][place]) * STEP_METRES,
        source=SOURCE,
    )
