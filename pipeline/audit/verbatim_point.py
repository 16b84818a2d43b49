"""A point in decimal degrees out of verbatim coordinates, where they can be read in one way only."""

from __future__ import annotations

from functools import lru_cache

from pipeline.values.grid import read_point
from pipeline.values.position import read, read_pair
from pipeline.values.position_pair import ways_to_part
from pipeline.values.position_text import plain_signs
from pipeline.values.text import tidy

Point = tuple[str, str]
_NO_DEGREES = frozenset({"UTM", "MGRS", "map link"})
_GRIDS = frozenset(
    {"utm", "mgrs", "usng", "grid", "easting", "northing", "metres", "meters", "mercator", "trs", "osgb"}
)
_SAME = 1e-4  # degrees: the same place, written in two notations


@lru_cache(maxsize=50_000)
def point_of_two(latitude: str, longitude: str) -> Point | None:
    """The point of a latitude and a longitude in two texts.

    >>> point_of_two("41 05 54.03S", "121d 10' 34\\" W"), point_of_two("45.50", "64.8 N")
    (('-41.0983417', '-121.1761111'), None)
    """
    one, other = read(latitude, "t", "latitude"), read(longitude, "t", "longitude")
    if one.doubt or other.doubt or not one.value or not other.value:
        return None
    return _short(one.value, latitude), _short(other.value, longitude)


@lru_cache(maxsize=50_000)
def point_of_one(text: str) -> Point | None:
    """The point of a latitude and a longitude in one text; None where either may come first, and for grids.

    >>> point_of_one("139.92, -23.712"), point_of_one("45.5N 64.8W"), point_of_one("45.5, 64.8")
    (('-23.712', '139.92'), ('45.5', '-64.8'), None)
    >>> point_of_one("17T 630000 4833400"), point_of_one("+4530-06448/")
    (None, ('45.5', '-64.8'))
    """
    found = read_point(text)
    if found and found.system in _NO_DEGREES:
        return None
    one, other = read_pair(text)
    if one.doubt or other.doubt or not one.value or not other.value:
        return None
    if not found and not _says_which_is_which(text):
        return None
    return _short(one.value, text), _short(other.value, text)


def is_same_point(one: Point, other: Point) -> bool:
    """Whether two points are the same but for the notation.

    >>> is_same_point(("45.5", "-64.8"), ("45.50003", "-64.8")), is_same_point(("45.5", "-64.8"), ("45.6", "-64.8"))
    (True, False)
    """
    return all(abs(float(first) - float(second)) <= _SAME for first, second in zip(one, other, strict=True))


def is_grid(system: str) -> bool:
    """Whether the name of a coordinate system is that of a grid in metres.

    >>> is_grid("UTM zone 20"), is_grid("decimal degrees"), is_grid("")
    (True, False, False)
    """
    return not _GRIDS.isdisjoint(tidy(system).split())


def _says_which_is_which(text: str) -> bool:
    ways = ways_to_part(plain_signs(text.strip()).strip("()[]{}. "))
    return any(latitude.axis or longitude.axis or float(longitude.degrees) > 90 for latitude, longitude in ways)


def _short(value: str, text: str) -> str:
    """The value without zeros that only the conversion put behind it."""
    return value if value in text or "." not in value else value.rstrip("0").removesuffix(".")
