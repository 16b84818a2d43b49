"""A whole point in one text that is no pair of degrees: UTM, MGRS, ISO 6709, a `geo:` address, a link to a map."""

from __future__ import annotations

import re
from decimal import Decimal
from functools import lru_cache
from typing import NamedTuple

from pipeline.values.position_text import plain_signs
from pipeline.values.utm import BANDS, METRES_A_DEGREE, degrees_of, fits_band, northing_in_band

_LONGEST = 400
_NUMBER = r"[-+]?\d{1,3}(?:\.\d+)?"
_GEO = re.compile(rf"geo:\s*({_NUMBER}),({_NUMBER})(?:,[-+]?\d+(?:\.\d+)?)?((?:;[^\s;]*)*)")
_ISO = re.compile(
    r"([-+](?:\d{2}|\d{4}|\d{6})(?:\.\d+)?)([-+](?:\d{3}|\d{5}|\d{7})(?:\.\d+)?)"
    r"(?:[-+]\d+(?:\.\d+)?)?(?:crswgs_?84)?/?"
)
_LINK = re.compile(r"https?:|www\.|\bmaps?\.")
# Where the place itself is told before where only the middle of the picture is.
_IN_LINK = (
    rf"!3d({_NUMBER})!4d({_NUMBER})",
    rf"[?&](?:m|marker_?)lat=({_NUMBER})&(?:m|marker_?)lon=({_NUMBER})",
    rf"[?&](?:q|query|ll|loc|center|destination|daddr|cp|marker)=(?:loc:|geo:)?\s*({_NUMBER})\s*(?:,|%2c|~|\s|\+)\s*({_NUMBER})",
    rf"@({_NUMBER}),({_NUMBER})",
    rf"#(?:map=)?\d+(?:\.\d+)?/({_NUMBER})/({_NUMBER})",
)
_ZONE = re.compile(
    r"(?<![\d.])(?P<zone>\d{1,2})\s*(?P<half>north|nord|norte|south|sud|sur|[c-hj-np-x])?\b(?![.\d])", re.ASCII
)
_HALF = re.compile(r"\b(?:north|nord|norte|south|sud|sur)\b")
_METRES = re.compile(r"(?<![\d.])(\d{6,8}(?:\.\d+)?)(?![\d.])", re.ASCII)
_AROUND = re.compile(
    r"utm|zones?|huso|fuseau|north|nord|south|sud|sur|wgs\s?-?84|[\s,;:()=]|\bm?[en]\b|\bm\b|este?|norte?|easting|northing"
)
_MGRS = re.compile(r"(?:mgrs:?\s*)?(\d{1,2})\s*([c-hj-np-x])\s*([a-hj-np-z])([a-hj-np-v])\s*(\d*)\s*(\d*)", re.ASCII)
_COLUMNS = ("stuvwxyz", "abcdefgh", "jklmnpqr")  # of the squares of 100 km, by zone modulo 3
_ROWS = "abcdefghjklmnpqrstuv"
_SQUARE = 100_000


class Found(NamedTuple):
    """A point in decimal degrees, how finely it was told (degrees), the notation; `other` is its second reading.

    `zone` is that of a grid, negative in the south, 0 for none; `side` the metres of the square in which the point is.
    """

    latitude: str
    longitude: str
    step: float
    system: str
    other: tuple[str, str] | None = None
    zone: int = 0
    side: float = 0.0


@lru_cache(maxsize=20_000)
def read_point(text: str) -> Found | None:
    """The point that a text holds whole, None if it is no such text or its parts do not fit one another.

    >>> read_point("17T 630000 4833400")[:2], read_point("geo:45.5,-64.8")[:2]
    (('43.6422344', '-79.3881931'), ('45.5', '-64.8'))
    >>> read_point("+4530-06448/")[:2], read_point("45.5, -64.8")
    (('45.5000000', '-64.8000000'), None)
    """
    if len(text) > _LONGEST:
        return None
    signs = plain_signs(text).strip()
    return _of_geo(signs) or _of_link(signs) or _of_iso(signs) or _of_mgrs(signs) or _of_utm(signs)


def _of_degrees(latitude: str, longitude: str, system: str) -> Found | None:
    latitude, longitude = latitude.removeprefix("+"), longitude.removeprefix("+")
    if abs(float(latitude)) > 90 or abs(float(longitude)) > 180:
        return None
    decimals = min(len(number.partition(".")[2]) for number in (latitude, longitude))
    return Found(latitude, longitude, 10.0**-decimals, system)


def _of_geo(signs: str) -> Found | None:
    found = _GEO.fullmatch(signs)
    crs = re.search(r";crs=([^;]*)", found[3]) if found else None
    if not found or (crs and crs[1] != "wgs84"):
        return None
    return _of_degrees(found[1], found[2], "geo URI")


def _of_link(signs: str) -> Found | None:
    if not _LINK.search(signs):
        return None
    found = next((one for pattern in _IN_LINK if (one := re.search(pattern, signs))), None)
    return _of_degrees(found[1], found[2], "map link") if found else None


def _of_iso(signs: str) -> Found | None:
    found = _ISO.fullmatch(signs)
    if not found or not (signs.endswith("/") or len(signs) > 8):
        return None
    parts = [_sexagesimal(found[1], 2), _sexagesimal(found[2], 3)]
    if not all(parts):
        return None
    (latitude, step), (longitude, other) = (part for part in parts if part)
    is_on_globe = abs(float(latitude)) <= 90 and abs(float(longitude)) <= 180
    return Found(latitude, longitude, max(step, other), "ISO 6709") if is_on_globe else None


def _sexagesimal(signed: str, width: int) -> tuple[str, float] | None:
    """Degrees, degrees and minutes, or degrees, minutes and seconds, told apart by the number of figures."""
    whole, _, decimals = signed[1:].partition(".")
    parts = [whole[:width], *(whole[at : at + 2] for at in range(width, len(whole), 2))]
    finest = 10.0 ** -len(decimals) / 60 ** (len(parts) - 1)
    sign = "-" if signed[0] == "-" else ""
    if len(parts) == 1:
        return f"{sign}{int(whole)}" + (f".{decimals}" if decimals else ""), finest
    numbers = [Decimal(part) for part in (*parts[:-1], f"{parts[-1]}.{decimals or 0}")]
    if any(number >= 60 for number in numbers[1:]):
        return None
    total = sum((number / 60**at for at, number in enumerate(numbers)), Decimal(0))
    return f"{sign}{total:.7f}", finest


def _of_mgrs(signs: str) -> Found | None:
    found = _MGRS.fullmatch(signs)
    if not found:
        return None
    zone, band = int(found[1]), found[2]
    digits = found[4 + 1] + found[6]
    columns = _COLUMNS[zone % 3]
    if not 1 <= zone <= 60 or len(digits) % 2 or len(digits) > 10 or found[3] not in columns:
        return None
    size = len(digits) // 2
    if found[6] and len(found[5]) != len(found[6]):
        return None
    side = 10.0 ** (5 - size)
    east = (columns.index(found[3]) + 1) * _SQUARE + int(digits[:size] or 0) * side + side / 2
    row = (_ROWS.index(found[4]) - (5 if zone % 2 == 0 else 0)) % len(_ROWS)
    north = northing_in_band(row * _SQUARE, band) + int(digits[size:] or 0) * side + side / 2
    latitude, longitude = degrees_of(zone, band < "n", east, north)
    if not fits_band(latitude, band, side):
        return None
    zone = -zone if band < "n" else zone
    return Found(f"{latitude:.7f}", f"{longitude:.7f}", side / METRES_A_DEGREE, "MGRS", zone=zone, side=side)


def _of_utm(signs: str) -> Found | None:
    metres = _METRES.findall(signs)
    rest = _METRES.sub(" ", signs)
    zones = list(_ZONE.finditer(rest))
    if len(metres) != 2 or len(zones) != 1 or _AROUND.sub("", _ZONE.sub("", rest)):
        return None
    said = _HALF.search(_ZONE.sub(" ", rest))
    zone, half = int(zones[0]["zone"]), said[0] if said else zones[0]["half"] or ""
    east, north = map(float, metres)
    if not (1 <= zone <= 60 and 100_000 <= east < 900_000 and north <= 10_000_000):
        return None
    decimals = max(len(number.partition(".")[2]) for number in metres)
    halves = {is_south: _utm_point(zone, half, is_south, (east, north)) for is_south in _halves(half)}
    found = [(point, -zone if is_south else zone) for is_south, point in halves.items() if point]
    if not found:
        return None
    (first, signed), *others = found
    side = 10.0**-decimals
    return Found(*first, side / METRES_A_DEGREE, "UTM", others[0][0] if others else None, signed, side)


def _halves(half: str) -> tuple[bool, ...]:
    """Whether south of the equator; both where it is not said, or where S may be a band of the north or the south."""
    if half in ("", "s"):
        return (False, True)
    return (half in ("south", "sud", "sur") or (half < "n" and half in BANDS),)


def _utm_point(zone: int, half: str, is_south: bool, metres: tuple[float, float]) -> tuple[str, str] | None:
    latitude, longitude = degrees_of(zone, is_south, *metres)
    is_band = half != "" and half in BANDS and half not in "ns"
    if abs(latitude) > 84 or (is_band and not fits_band(latitude, half, 0)):
        return None
    return f"{latitude:.7f}", f"{longitude:.7f}"
