"""How far a butterfly flew, as it may be told outside: between places as they are shown there, rounded or not."""

from __future__ import annotations

import sqlite3
from collections.abc import Mapping

import numpy as np
from pyproj import Geod

from pipeline.files.ledger import LIVE, frame
from pipeline.values.rounding import to_square

GEOD = Geod(ellps="WGS84")
PLACE = ("latitude", "longitude")
# A find is told to its finder while it is still held; its place is rounded wherever it is shown.
PAIRS = f"""
SELECT f.key AS key, f.latitude AS find_latitude, f.longitude AS find_longitude, r.latitude AS latitude,
    r.longitude AS longitude, of_release.is_rounded = 'yes' AS is_rounded
FROM finds JOIN records f ON f.key = finds.key
JOIN records r ON r.tag = f.tag AND r.kind = 'release'
JOIN rows of_release ON of_release.key = r.key AND of_release.state = 'clear'
UNION ALL
SELECT f.key, f.latitude, f.longitude, past.latitude, past.longitude, 0
FROM finds JOIN records f ON f.key = finds.key
JOIN past ON past.tag = f.tag AND past.kind = 'release' AND {LIVE.replace("run", "past.run", 1)}
"""


def shown_km(ledger: sqlite3.Connection, square: float) -> Mapping[str, float]:
    """By the key of a find: km from its release, left out where either place is missing; `square` is in degrees."""
    pairs = frame(ledger, PAIRS)
    if not len(pairs):
        return {}
    pairs = pairs.drop_duplicates("key")
    exact = [pairs[name].to_numpy(dtype=np.float64) for name in (*PLACE, *(f"find_{name}" for name in PLACE))]
    rounded = [to_square(axis, square) for axis in exact]
    is_rounded = pairs["is_rounded"].astype("bool").to_numpy()
    north, east = (np.where(is_rounded, *axes) for axes in zip(rounded[:2], exact[:2], strict=True))
    metres = np.asarray(GEOD.inv(east, north, rounded[3], rounded[2])[2])
    is_known = ~np.isnan(np.stack([north, east, *rounded[2:]])).any(axis=0)
    told = zip(pairs["key"].tolist(), metres.tolist(), is_known.tolist(), strict=True)
    return {key: away / 1000 for key, away, known in told if known}
