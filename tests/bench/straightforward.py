"""(c) The same job as a competent person would script it: file by file, with pandas, pandera and openpyxl.

Each workbook is opened once; its rows are brought to standard form and checked with one pandera call, its
points moved to WGS84 with one Transformer; cells with faults are coloured and commented in a copy. Nothing is
slowed.

    python tests/bench/straightforward.py FOLDER
"""

from __future__ import annotations

import re
import sys
import tomllib
from collections.abc import Iterable
from pathlib import Path
from typing import Any, NamedTuple

import pandas as pd
from openpyxl import load_workbook
from openpyxl.comments import Comment
from openpyxl.styles import PatternFill

FIELD_OF_HEADING = {
    "tag": "tag", "étiquette": "tag", "tag number": "tag", "tagcode": "tag", "tag code": "tag",
    "date": "date", "eventdate": "date", "release date": "date", "day": "day", "month": "month",
    "year": "year", "sex": "sex", "sexe": "sex", "latitude": "latitude", "lat": "latitude",
    "longitude": "longitude", "long": "longitude", "coordinates": "coordinates", "species": "species",
    "espèce": "species", "scientificname": "species", "forewing (mm)": "wing", "forewing": "wing",
    "aile antérieure (mm)": "wing", "wing length": "wing", "forewinglength": "wing", "stage": "stage",
    "stade": "stage", "origin": "origin", "origine": "origin", "wear": "wear", "usure": "wear",
    "accuracy (m)": "accuracy", "précision (m)": "accuracy", "temperature": "warmth", "température": "warmth",
    "hours": "hours", "heures": "hours", "time": "time", "heure": "time", "eventtime": "time",
    "province": "province", "state or province": "province", "body mass (g)": "mass", "bodymass": "mass",
    "wing span (mm)": "span",
}  # fmt: skip
SEXES = {"m": "male", "male": "male", "mâle": "male", "f": "female", "female": "female", "femelle": "female"}
STAGES = {"adult": "adult", "adulte": "adult"}
ORIGINS = {"wild": "wild", "sauvage": "wild", "reared": "reared", "élevé": "reared"}
PROVINCES = ["NB", "NS", "PE", "QC"]
MARK = PatternFill("solid", fgColor="FFE699")
SAYS = {
    "tag": "not one of your tags, or not their shape",
    "date": "no day of this season",
    "sex": "not a sex that we know",
    "latitude": "not a latitude in the region",
    "longitude": "not a longitude in the region",
    "species": "not on the list",
    "wing": "outside 40 to 60 mm",
    "stage": "only adults carry a tag",
    "origin": "not an origin that we know",
    "wear": "outside 1 to 5",
    "accuracy": "outside 1 to 1,000 m",
    "warmth": "outside -5 to 45 degrees",
    "hours": "outside 0 to 24",
    "time": "in the dark",
    "province": "not a province that we know",
    "mass": "outside 0.25 to 0.75 g",
    "span": "outside 80 to 120 mm",
}
DEGREES = re.compile(r"(\d+)°\s*([\d.]+)'\s*([NSEW])")


class Programme(NamedTuple):
    """What the checks need to know."""

    pattern: str
    first_day: pd.Timestamp
    last_day: pd.Timestamp
    species: list[str]
    tags_of_person: dict[str, set[str]]


def read_programme(folder: Path) -> Programme:
    settings = tomllib.loads((folder / "programme.toml").read_text(encoding="utf-8"))
    tags_of_person: dict[str, set[str]] = {}
    for line in pd.read_csv(folder / "tags.csv", dtype=str).itertuples():
        letters, numbers = line.first_code[:2], range(int(line.first_code[2:]), int(line.last_code[2:]) + 1)
        tags_of_person.setdefault(line.person_id, set()).update(f"{letters}{number:04d}" for number in numbers)
    return Programme(
        settings["tags"]["pattern"],
        pd.Timestamp(settings["season"]["first_day"]),
        pd.Timestamp(settings["season"]["last_day"]),
        settings["species"]["allowed"],
        tags_of_person,
    )


def degrees(cells: pd.Series) -> pd.Series:
    """Decimal degrees, of numbers and of degrees and minutes."""
    numbers = pd.to_numeric(cells, errors="coerce")
    parts = cells.astype(str).str.extract(DEGREES)
    size = pd.to_numeric(parts[0]) + pd.to_numeric(parts[1]) / 60
    return numbers.fillna(size.where(~parts[2].isin(["S", "W"]), -size))


def days(table: pd.DataFrame) -> pd.Series:
    if "date" not in table:
        return pd.to_datetime(table[["year", "month", "day"]], errors="coerce")
    dates = table["date"]
    if dates.map(lambda cell: isinstance(cell, str)).all() and dates.str.contains("/").any():
        return pd.to_datetime(dates, dayfirst=True, errors="coerce")
    return pd.to_datetime(dates, errors="coerce", format="mixed")


def normalised(table: pd.DataFrame) -> pd.DataFrame:
    """The rows in standard form, with the columns that are checked."""
    if "coordinates" in table:
        pair = table["coordinates"].str.split(",", expand=True)
        table["latitude"], table["longitude"] = pair[0], pair[1]
    rows = pd.DataFrame(index=table.index)
    rows["tag"] = table["tag"].astype(str).str.upper().str.replace(r"[\s-]", "", regex=True)
    rows["date"] = days(table)
    rows["sex"] = table["sex"].astype(str).str.strip().str.lower().map(SEXES)
    rows["latitude"], rows["longitude"] = degrees(table["latitude"]), degrees(table["longitude"])
    rows["species"] = table["species"]
    wing = table["wing"].astype(str).str.extract(r"([\d.]+)\s*(in|cm)?")
    factor = wing[1].map({"in": 25.4, "cm": 10.0}).fillna(1.0).astype(float)
    rows["wing"] = pd.to_numeric(wing[0], errors="coerce") * factor
    rows["stage"] = table["stage"].astype(str).str.strip().str.lower().map(STAGES)
    rows["origin"] = table["origin"].astype(str).str.strip().str.lower().map(ORIGINS)
    for field in ("wear", "accuracy", "warmth", "hours", "mass", "span"):
        rows[field] = pd.to_numeric(table[field], errors="coerce") if field in table else float("nan")
    clock = table["time"].astype(str).str.extract(r"(\d\d):(\d\d)").astype(float) if "time" in table else None
    rows["time"] = clock[0] * 60 + clock[1] if clock is not None else float("nan")
    rows["province"] = table["province"].str.strip() if "province" in table else None
    return rows


def schema(programme: Programme, person: str) -> Any:
    import pandera.pandas as pa

    shape = pa.Check.str_matches(f"^(?:{programme.pattern})$")
    owned = pa.Check.isin(programme.tags_of_person.get(person, set()))
    once = pa.Check(lambda tags: ~tags.duplicated(keep=False))
    return pa.DataFrameSchema(
        {
            "tag": pa.Column(str, [shape, owned, once]),
            "date": pa.Column(
                "datetime64[ns]",
                [pa.Check.in_range(programme.first_day, programme.last_day), pa.Check.le(pd.Timestamp.now())],
            ),
            "sex": pa.Column(object, pa.Check.isin(["male", "female"]), nullable=False),
            "latitude": pa.Column(float, [pa.Check.in_range(-90, 90), pa.Check.in_range(14, 84), pa.Check.ne(0)]),
            "longitude": pa.Column(float, [pa.Check.in_range(-180, 180), pa.Check.in_range(-142, -52), pa.Check.ne(0)]),
            "species": pa.Column(object, pa.Check.isin(programme.species)),
            "wing": pa.Column(float, [pa.Check.gt(0), pa.Check.in_range(40, 60)], nullable=True),
            "stage": pa.Column(object, pa.Check.isin(["adult"]), nullable=True),
            "origin": pa.Column(object, pa.Check.isin(["wild", "reared", "bred", "bought"]), nullable=False),
            "wear": pa.Column(float, pa.Check.in_range(1, 5), nullable=True),
            "accuracy": pa.Column(float, pa.Check.in_range(1, 1000), nullable=True),
            "warmth": pa.Column(float, pa.Check.in_range(-5, 45), nullable=True),
            "hours": pa.Column(float, pa.Check.in_range(0, 24), nullable=True),
            "time": pa.Column(float, pa.Check.in_range(300, 1290), nullable=True),
            "province": pa.Column(object, pa.Check.isin(PROVINCES), nullable=True),
            "mass": pa.Column(float, pa.Check.in_range(0.25, 0.75), nullable=True),
            "span": pa.Column(float, pa.Check.in_range(80, 120), nullable=True),
        },
        coerce=True,
    )


def heading_row(rows: Iterable[tuple[Any, ...]]) -> int:
    """The first row with at least three known headings."""
    for number, row in enumerate(rows):
        if sum(str(cell).strip().lower() in FIELD_OF_HEADING for cell in row) >= 3:
            return number
    raise ValueError("no heading row")


def check(path: Path, programme: Programme, outbox: Path) -> pd.DataFrame:
    """The file's good rows in standard form; a copy with marks where there are faults."""
    import pandera.pandas as pa
    from pyproj import Transformer

    workbook = load_workbook(path)
    sheet = workbook.worksheets[0]
    cells = list(sheet.values)
    head = heading_row(cells)
    fields = [FIELD_OF_HEADING.get(str(cell).strip().lower(), f"column {i}") for i, cell in enumerate(cells[head])]
    table = pd.DataFrame(cells[head + 1 :], columns=fields)
    rows = normalised(table)
    bad = pd.DataFrame(columns=["column", "index"])
    try:
        schema(programme, path.parent.name).validate(rows, lazy=True)
    except pa.errors.SchemaErrors as failed:
        bad = failed.failure_cases[["column", "index"]].dropna().drop_duplicates()
        for field, row in bad.itertuples(index=False):
            at = field if field in fields else {"date": "day"}.get(field, "coordinates")
            cell = sheet.cell(head + 2 + int(row), fields.index(at) + 1)
            cell.fill, cell.comment = MARK, Comment(SAYS[field], "tagging programme")
        outbox.mkdir(exist_ok=True)
        workbook.save(outbox / f"{path.parent.name}.xlsx")
    to_wgs84 = Transformer.from_crs("EPSG:4269", "EPSG:4326", always_xy=True)
    rows["longitude"], rows["latitude"] = to_wgs84.transform(rows["longitude"], rows["latitude"])
    return rows[~rows.index.isin(bad["index"].astype(int))]


def main(folder: Path) -> None:
    programme = read_programme(folder / "programme")
    paths = sorted((folder / "inbox").rglob("*.xlsx"))
    good = [check(path, programme, folder / "marked") for path in paths]
    pd.concat(good).to_csv(folder / "good.csv", index=False)


if __name__ == "__main__":
    main(Path(sys.argv[1]))
