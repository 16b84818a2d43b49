"""Datums: which one a word means, and how a point gets from there to WGS 84.

Names and operations are those of the EPSG dataset, as PROJ carries it. PROJ brings no grids of shifts and is not
allowed to fetch any, so that operations are the plain ones, good to a few metres; none at all is refused.
"""

from __future__ import annotations

import re
import warnings
from collections.abc import Mapping
from functools import cache
from typing import Any, NamedTuple

import numpy as np
import numpy.typing as npt

from pipeline.values.text import tidy

Numbers = npt.NDArray[np.float64]
WGS84 = "4326"
NO_DATUM = "none"  # a word that names a notation, and no datum
_EPSG = re.compile(r"(?:epsg|urnogcdefcrsepsg)?(\d{4,5})")
_ZONE = re.compile(
    r"\b(?:(?:utm|mtu)(?:[\s,/-]*(?:zone|huso|fuseau))?|zone|huso|fuseau)[\s,/-]*(?:\d{1,2}\s?[a-z]?\b)?", re.IGNORECASE
)
_CELLS_A_DEGREE = 10  # one choice of operations for each such square
_SHORTEST = 4  # letters of a name that may be part of a longer text


class Moved(NamedTuple):
    """Points brought to WGS 84: degrees, how far they may be off by it (metres), and the operation."""

    latitude: Numbers
    longitude: Numbers
    metres: Numbers
    operation: npt.NDArray[np.str_]


def compact(name: str) -> str:
    """A datum's name as it is compared: small letters without accents, and figures.

    >>> compact("WGS 84") == compact("WGS_84") == compact("wgs84"), compact("CH1903") == compact("CH1903+")
    (True, False)
    """
    return tidy(name.replace("+", " plus ")).replace(" ", "")


def datum_code(name: str, known: Mapping[str, str]) -> str:
    """The EPSG code of a datum's latitude and longitude, "none" where a word names no datum, "" where it is not known.

    `known` holds codes by compact name.

    >>> names = {"nad27": "4267", "nad83": "4269", "wgs84": "4326", "decimaldegrees": "none"}
    >>> [datum_code(name, names) for name in ("NAD 27", "NAD83 / UTM zone 20N", "EPSG:4230", "decimal degrees")]
    ['4267', '4269', '4230', 'none']
    >>> datum_code("NAD27 or NAD83", names), datum_code("EPSG:26920", names), datum_code("UTM zone 20, NAD 83", names)
    ('', '4269', '4269')
    """
    text = compact(name)
    if text in known:
        return known[text]
    if code := _EPSG.fullmatch(text):
        return _geographic(int(code[1]))
    rest = compact(_ZONE.sub(" ", name))
    if not rest or rest in known:
        return known[rest] if rest else NO_DATUM
    named = {one for one in known if len(one) >= _SHORTEST and one in rest and known[one] != NO_DATUM}
    longest = {known[one] for one in named if not any(one != other and one in other for other in named)}
    return longest.pop() if len(longest) == 1 else ""


@cache
def _geographic(code: int) -> str:
    """The code of the degrees in which a system of the EPSG dataset is reckoned, "" where it has none."""
    from pyproj import CRS
    from pyproj.exceptions import CRSError

    try:
        system = CRS.from_epsg(code)
    except CRSError:
        return ""
    own = system.geodetic_crs.to_2d() if system.geodetic_crs else None
    known = own.to_epsg() if own and own.is_geographic else None
    return str(known) if known else ""


def to_wgs84(latitude: Numbers, longitude: Numbers, code: str) -> Moved:
    """Points of another datum on WGS 84; the numbers are missing where no operation is known for the place.

    `metres` is the larger of the operation's stated accuracy and how far the operations for the place differ.
    """
    size = len(latitude)
    north, east, metres = np.full((3, size), np.nan)
    moved = Moved(north, east, metres, np.full(size, "", dtype="<U120"))
    is_point = (np.abs(latitude) <= 90) & (np.abs(longitude) <= 180)
    cells = np.floor(np.stack([latitude, longitude]) * _CELLS_A_DEGREE)
    for cell in np.unique(cells[:, is_point], axis=1).T.tolist():
        here = np.flatnonzero(is_point & (cells[0] == cell[0]) & (cells[1] == cell[1]))
        _move(moved, here, (latitude[here], longitude[here]), _operations(code, (int(cell[0]), int(cell[1]))))
    return moved


def _move(moved: Moved, here: Any, point: tuple[Numbers, Numbers], operations: tuple[Any, ...]) -> None:
    if not operations:
        return
    from pyproj import Geod

    results = [operation.transform(point[1], point[0]) for operation in operations]
    east, north = results[0]
    globe = Geod(ellps="WGS84")
    apart = [np.asarray(globe.inv(east, north, *other)[2]) for other in results[1:]]
    moved.latitude[here], moved.longitude[here] = np.round(north, 7), np.round(east, 7)
    moved.metres[here] = np.max([np.full(len(here), operations[0].accuracy), *apart], axis=0)
    moved.operation[here] = operations[0].description.removeprefix("axis order change (2D) + ").partition(" + ")[0]


@cache
def _operations(code: str, cell: tuple[int, int]) -> tuple[Any, ...]:
    """The operations for a square of a tenth of a degree, the best first; one without a stated accuracy is none."""
    import pyproj.network
    from pyproj.transformer import AreaOfInterest, TransformerGroup

    pyproj.network.set_network_enabled(active=False)  # type: ignore[attr-defined]
    south, west = (edge / _CELLS_A_DEGREE for edge in cell)
    area = AreaOfInterest(west, south, west + 1 / _CELLS_A_DEGREE, south + 1 / _CELLS_A_DEGREE)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # that grids are missing is known, and told by the accuracy
        group = TransformerGroup(
            f"EPSG:{code}", f"EPSG:{WGS84}", always_xy=True, area_of_interest=area, allow_ballpark=False
        )
    return tuple(one for one in group.transformers if one.accuracy >= 0)


def on_its_own_grid(point: tuple[float, float], zone: int, code: str) -> tuple[float, float]:
    """Latitude and longitude of metres on a UTM zone, reckoned on the datum's own ellipsoid instead of WGS 84's.

    `zone` is negative in the south.

    >>> [round(degrees, 5) for degrees in on_its_own_grid((40.4996, -73.4999), 18, "4267")]
    [40.5015, -73.4999]
    """
    from pyproj import CRS, Proj

    south = {"south": True} if zone < 0 else {}
    ellipsoid = CRS.from_epsg(int(code)).ellipsoid
    axes = {"a": ellipsoid.semi_major_metre, "b": ellipsoid.semi_minor_metre} if ellipsoid else {"ellps": "WGS84"}
    metres = Proj(proj="utm", zone=abs(zone), ellps="WGS84", **south)(point[1], point[0])
    east, north = Proj(proj="utm", zone=abs(zone), **axes, **south)(*metres, inverse=True)
    return float(north), float(east)
