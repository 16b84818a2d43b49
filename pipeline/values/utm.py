"""The grid of UTM: its bands, and degrees out of metres."""

from __future__ import annotations

import math
from functools import cache
from typing import Any

BANDS = "cdefghjklmnpqrstuvwx"  # of 8 degrees from 80 South, the last of 12
METRES_A_DEGREE = 111_320.0  # of latitude, near enough to tell how fine a step is
_ROUND = 2_000_000  # metres after which the letters of the squares begin anew


def degrees_of(zone: int, is_south: bool, east: float, north: float) -> tuple[float, float]:
    """Latitude and longitude on WGS84.

    >>> [round(number, 6) for number in degrees_of(17, False, 630000, 4833400)]
    [43.642234, -79.388193]
    """
    longitude, latitude = _transformer(zone, is_south).transform(east, north)
    return latitude, longitude


@cache
def _transformer(zone: int, is_south: bool) -> Any:
    from pyproj import Transformer  # only where a grid was written

    return Transformer.from_crs(f"EPSG:{(32700 if is_south else 32600) + zone}", "EPSG:4326", always_xy=True)


def south_edge(band: str) -> int:
    """The latitude at which a band begins.

    >>> south_edge("n"), south_edge("c"), south_edge("t")
    (0, -80, 40)
    """
    return -80 + 8 * BANDS.index(band)


def fits_band(latitude: float, band: str, metres: float) -> bool:
    """Whether a latitude lies in a band, or no farther outside than half a square and a hair."""
    first = south_edge(band)
    last = first + (12 if band == "x" else 8)
    beside = metres / METRES_A_DEGREE + 0.05
    return first - beside <= latitude <= last + beside


def northing_in_band(north: float, band: str) -> float:
    """The northing of a square in its band, of which the letters tell only what is left after 2,000 km.

    >>> northing_in_band(1_600_000, "s")
    3600000.0
    """
    least = _meridian(south_edge(band)) + (10_000_000 if band < "n" else 0)
    rounds = max(0, math.ceil((least - 100_000 - north) / _ROUND))
    return float(north + rounds * _ROUND)


def _meridian(latitude: float) -> float:
    """Metres from the equator along the middle of a zone (WGS84; Snyder 1987, equation 3-21), times 0.9996."""
    phi = math.radians(latitude)
    arc = 111_132.952 * latitude - 16_038.509 * math.sin(2 * phi) + 16.833 * math.sin(4 * phi)
    return 0.9996 * arc
