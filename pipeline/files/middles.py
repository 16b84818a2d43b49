"""How far points lie from the middles of countries, where coordinates made from a country's name lie."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

import numpy as np

from pipeline.files.boundary_layers import Texts
from pipeline.files.outlines import GEOD, Numbers
from pipeline.files.schemas import table

NEAR_DEGREES = 1.0  # of latitude: what lies farther off is not measured


def km_from_centre(latitudes: Numbers, longitudes: Numbers, codes: Texts) -> Numbers:
    """How far each point lies from the nearest middle of the country of its code; missing where none is near."""
    km = np.full(len(codes), np.nan)
    for code in np.unique(codes).tolist():
        asked = np.flatnonzero(codes == code)
        for north, east in _middles().get(code, ()):
            close = asked[np.abs(latitudes[asked] - north) <= NEAR_DEGREES]
            middle = np.full(len(close), east), np.full(len(close), north)
            _, _, metres = GEOD.inv(longitudes[close], latitudes[close], *middle)
            km[close] = np.fmin(km[close], np.asarray(metres) / 1000)
    return km


@cache
def half_width_km() -> Mapping[str, float]:
    """Half the root of each country's area."""
    return {line["code"]: float(line["square_km"]) ** 0.5 / 2 for line in table("boundaries/centres.csv")}


@cache
def _middles() -> Mapping[str, tuple[tuple[float, float], ...]]:
    middles: dict[str, tuple[tuple[float, float], ...]] = {}
    for line in table("boundaries/centres.csv"):
        middle = (float(line["latitude"]), float(line["longitude"]))
        middles[line["code"]] = (*middles.get(line["code"], ()), middle)
    return middles
