"""Datums by their EPSG codes and names, and how far apart they may lie; pyproj's data set is asked only when needed."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

from pipeline.files.schemas import table
from pipeline.values.datum import compact

EVERY = 5  # degrees between the places of the table of shifts


def is_datum(code: str) -> bool:
    """Whether a code such as EPSG:4326 is a geodetic datum, an ellipsoid or a reference system of degrees.

    >>> [is_datum(f"EPSG:{number}") for number in (4326, 1168, 7030, 23032, 4807, 4979, 99999)]
    [True, True, True, False, False, False, False]
    """
    authority, _, number = code.partition(":")
    if authority != "EPSG":
        return False
    return number in _frames() or (number in _systems() and _is_in_degrees(number))


@cache
def datum_codes() -> Mapping[str, str]:
    """Codes by names as they are compared; a name that stands for several things is not among them."""
    codes: dict[str, str] = {}
    for number, name in _systems().items():
        codes[compact(name)] = "" if compact(name) in codes else f"EPSG:{number}"
    # What is called a datum by common practice alone ("GPS") may mean another here: a proposal must be sure.
    named = [line for line in table("vocabularies/datums.csv") if line["source"] == "EPSG"]
    codes |= {compact(line["written"]): f"EPSG:{line['code']}" for line in named}
    return {name: code for name, code in codes.items() if code}


def largest_shift(latitude: float, longitude: float) -> int:
    """How many metres a point may be off whose datum nobody wrote, by the corners of its square of 5 degrees.

    >>> 2750 < largest_shift(-30.0, 130.0) < 2850
    True
    """
    south, west = min(int((latitude + 90) // EVERY), 35), min(int((longitude + 180) // EVERY), 71)
    return max(_shifts()[south + up][west + right] for up in (0, 1) for right in (0, 1))


@cache
def _shifts() -> tuple[tuple[int, ...], ...]:
    lines = sorted(table("boundaries/datum_shifts.csv"), key=lambda line: int(line["latitude"]))
    return tuple(tuple(int(metres) for head, metres in line.items() if head != "latitude") for line in lines)


@cache
def _systems() -> Mapping[str, str]:
    from pyproj.database import query_crs_info
    from pyproj.enums import PJType

    return {one.code: one.name for one in query_crs_info("EPSG", [PJType.GEOGRAPHIC_2D_CRS])}


@cache
def _is_in_degrees(number: str) -> bool:
    from pyproj import CRS

    return all(axis.unit_name.startswith("degree") for axis in CRS.from_epsg(int(number)).axis_info)


@cache
def _frames() -> frozenset[str]:
    """The numbers of datums and ellipsoids."""
    from pyproj.database import get_codes
    from pyproj.enums import PJType

    kinds = (
        PJType.GEODETIC_REFERENCE_FRAME,
        PJType.DYNAMIC_GEODETIC_REFERENCE_FRAME,
        PJType.DATUM_ENSEMBLE,
        PJType.ELLIPSOID,
    )
    return frozenset(number for kind in kinds for number in get_codes("EPSG", kind))
