"""Makes the small tables that only the audit asks: middles of countries, divisions without code, shifts of datums.

python schemas/boundaries/make_for_audit.py centres OUT     from the boundaries as they lie here
python schemas/boundaries/make_for_audit.py divisions OUT   from the same
python schemas/boundaries/make_for_audit.py shifts OUT      from the EPSG data set in pyproj (3.7.2 has EPSG 11.022)

It opens no network. `centres`: the middle of all land of a country and of its largest part, each in flat degrees and in
an equal-area projection, for lists of middles are made in either way. `divisions`: names that `states.csv` has
not, with the codes of the map, which are not of ISO 3166-2. `shifts`: the largest distance in metres between
WGS 84 and any other geographic datum of EPSG with the same figures, every 5 degrees; datums that count from another
meridian than Greenwich or not in degrees are left out, and so are steps that need grids.
"""

from __future__ import annotations

import csv
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np
import shapely
from pyproj import CRS, Geod, Transformer
from pyproj.database import query_crs_info
from pyproj.enums import PJType
from pyproj.transformer import TransformerGroup

EVERY = 5  # degrees
NEAR_KM = 1.0  # two middles that lie nearer are one
GEOD = Geod(ellps="WGS84")


def centres(out: Path) -> None:
    """The middles of each country and its area, by code."""
    sys.path.insert(0, str(Path(__file__).parent.parent.parent))
    from pipeline.files.boundary_layers import world

    lines = []
    for code in sorted({one for one in world().countries.tolist() if one and one != "XK"}):
        parts = shapely.get_parts(world().layer.shapes[world().countries == code])
        areas = np.array([abs(GEOD.geometry_area_perimeter(part)[0]) for part in parts]) / 1e6
        kept: list[tuple[float, float]] = []
        for latitude, longitude in (*_middles(parts), *_middles(_largest(parts))):
            if all(GEOD.inv(longitude, latitude, east, north)[2] > NEAR_KM * 1000 for north, east in kept):
                kept.append((latitude, longitude))
        lines += [[code, f"{north:.4f}", f"{east:.4f}", f"{areas.sum():.4g}"] for north, east in kept]
    _write(out, ["code", "latitude", "longitude", "square_km"], lines)


def divisions(out: Path) -> None:
    """The names of states and provinces that have no code today, or another than our list of states knows."""
    sys.path.insert(0, str(Path(__file__).parent.parent.parent))
    from pipeline.files.boundary_layers import world
    from pipeline.files.schemas import table
    from pipeline.values.text import tidy

    known = {(tidy(line["written"]), line["country"]) for line in table("vocabularies/states.csv")}
    lines = [
        [name, line[3]]
        for line, country in zip(world().layer.lines, world().countries.tolist(), strict=True)
        for name in dict.fromkeys((line[4], line[5]))
        if name and country and line[3].startswith(f"{country}-") and (tidy(name), country) not in known
    ]
    _write(out, ["written", "code"], sorted(lines))


def shifts(out: Path) -> None:
    """The largest shift to WGS 84, a line for each latitude and a column for each longitude."""
    latitudes, longitudes = np.arange(-90, 91, EVERY), np.arange(-180, 181, EVERY)
    north, east = (axis.astype(float).ravel() for axis in np.meshgrid(latitudes, longitudes, indexing="ij"))
    inner = np.clip(north, -89.9, 89.9)
    metres = np.zeros(len(north))
    for step in _steps():
        there = step.transform(east, inner)
        if np.isfinite(there).all():
            metres = np.maximum(metres, GEOD.inv(east, inner, *there)[2])
    rows = np.ceil(metres).astype(int).reshape(len(latitudes), -1)
    lines = [[str(latitude), *map(str, row)] for latitude, row in zip(latitudes.tolist(), rows.tolist(), strict=True)]
    _write(out, ["latitude", *map(str, longitudes.tolist())], lines)


def _steps() -> Iterator[Transformer]:
    for info in query_crs_info("EPSG", [PJType.GEOGRAPHIC_2D_CRS]):
        crs = CRS.from_epsg(int(info.code))
        is_degrees = all(axis.unit_name.startswith("degree") for axis in crs.axis_info)
        if crs.prime_meridian and crs.prime_meridian.longitude == 0 and is_degrees:
            try:
                group = TransformerGroup(crs, "EPSG:4326", always_xy=True, allow_ballpark=False)
            except IndexError:  # how pyproj says that it knows no step
                continue
            yield from (step for step in group.transformers if step.accuracy >= 0)


def _middles(parts: Any) -> list[tuple[float, float]]:
    """In flat degrees, and in Lambert's equal-area projection round that place; both across 180 degrees."""
    east = shapely.get_coordinates(parts)[:, 0]
    if east.max() - east.min() > 180:
        parts = shapely.transform(parts, lambda xy: np.column_stack([xy[:, 0] % 360, xy[:, 1]]))
    flat = shapely.centroid(shapely.multipolygons(parts))
    lambert = Transformer.from_crs("EPSG:4326", f"+proj=laea +lat_0={flat.y} +lon_0={flat.x}", always_xy=True)
    laid = shapely.transform(parts, lambda xy: np.column_stack(lambert.transform(*xy.T)))
    middle = shapely.centroid(shapely.multipolygons(laid))
    longitude, latitude = lambert.transform(middle.x, middle.y, direction="INVERSE")
    return [(flat.y, (flat.x + 180) % 360 - 180), (latitude, longitude)]


def _largest(parts: Any) -> Any:
    """The largest piece of land, which its states only cut."""
    whole = shapely.get_parts(shapely.union_all(shapely.set_precision(parts, 1e-4)))
    return whole[[int(np.argmax([abs(GEOD.geometry_area_perimeter(part)[0]) for part in whole]))]]


def _write(out: Path, head: list[str], lines: list[list[str]]) -> None:
    with out.open("w", encoding="utf-8", newline="") as file:
        csv.writer(file, lineterminator="\n").writerows([head, *lines])


if __name__ == "__main__":
    {"centres": centres, "divisions": divisions, "shifts": shifts}[sys.argv[1]](Path(sys.argv[2]))
