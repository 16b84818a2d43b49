"""Rows as export, protect and match_finds see them, made from the few values that a case names."""

from __future__ import annotations

import csv
from importlib.resources import files
from typing import Any

import pandas as pd

from pipeline.remembered import nothing_elsewhere
from pipeline.settings import Settings, read_settings
from pipeline.stages.export import Batch, PortalLists, export
from pipeline.stages.match_finds import match_finds
from pipeline.stages.protect import privacy
from pipeline.values.sensitive import COLUMNS
from pipeline.values.uncertainty import from_written, radius, steps

NOTHING_SENSITIVE = pd.DataFrame(columns=list(COLUMNS), dtype="str")
RELEASE = "urn:uuid:00000000-0000-5000-8000-000000000001"
FIND = "urn:uuid:00000000-0000-5000-8000-000000000002"
PEOPLE_COLUMNS = [
    *(
        "person_id",
        "name",
        "email",
        "language",
        "publish_name",
        "minor",
        "group",
        "home_latitude",
        "home_longitude",
    ),
    *("guardian_name", "guardian_email", "consent_on"),
]
EMPTY: dict[str, Any] = {"text": "", "day": pd.NaT, "number": float("nan"), "yes-no": False}


def table(name: str) -> list[dict[str, str]]:
    return list(csv.DictReader(files("schemas").joinpath(name).read_text(encoding="utf-8").splitlines()))


PORTAL_COLUMNS = table("portal_columns.csv")
LISTS = PortalLists(
    columns={
        name: [line["column"] for line in PORTAL_COLUMNS if line["table"] == name]
        for name in ("occurrence", "measurementOrFact", "resourceRelationship")
    },
    taxa=(
        {
            "scientificName": "Danaus plexippus",
            "rank": "species",
            "vernacular_en": "Monarch",
            "authorship": "(Linnaeus, 1758)",
            "family": "Nymphalidae",
        },
    ),
    countries={"CA": "Canada", "US": "United States", "MX": "Mexico"},
)


FIELDS = [line["field"] for line in table("fields.csv")]
FACTS = {line["column"]: line["type"] for line in table("looked_up.csv")}
KINDS = FACTS | {"is_public_site": "yes-no", "was_rounded": "yes-no"}
KINDS |= dict.fromkeys(("table_id", "table", "row"), "number")
USUAL: dict[str, Any] = {
    "key": "00000000-0000-5000-8000-000000000001",
    "person_id": "ps1",
    "file": "ps1/tags.xlsx",
    "file_sha256": "ab",
    "sheet": "Tags",
    "table_id": 1,
    "table": 1,
    "row": 2,
    "part": "",
    "recordKind": "release",
    "tagCode": "SM0042",
    "eventDate": "2026-09-03",
    "sex": "male",
    "scientificName": "Danaus plexippus",
    "occurrence_id": RELEASE,
    "modified": "2026-11-25",
    "withheld": "",
    "state": "clear",
    "season": "2026",
    "tag_season": "2026",
    "datum_code": "4326",
    "datum_metres": 0.0,
}


def rows_of(*cases: dict[str, Any]) -> pd.DataFrame:
    """Rows with every column of the contract; points, days and radii are looked up from the text where not given."""
    frame = pd.DataFrame([_line(case) for case in cases])
    for column in frame.columns:
        kind = KINDS.get(column, "text")
        if kind == "day":
            frame[column] = pd.to_datetime(frame[column])
        elif kind == "text":
            frame[column] = frame[column].astype("str")
        elif kind == "yes-no":
            frame[column] = frame[column].eq(True)
    return frame.assign(metres=_metres(frame))


def _metres(frame: pd.DataFrame) -> pd.Series:
    counts = (frame["latitude_decimals"].to_numpy(), frame["longitude_decimals"].to_numpy())
    written = (frame["decimalLatitude_written"].to_numpy(), frame["decimalLongitude_written"].to_numpy())
    latitude, stated, datum = (frame[name].to_numpy() for name in ("latitude", "uncertainty_metres", "datum_metres"))
    receiver = settings_of().region.receiver_accuracy_m
    finely = from_written(steps(counts, written), latitude)
    return pd.Series(radius(finely, stated, receiver, datum), index=frame.index)


def _line(case: dict[str, Any]) -> dict[str, Any]:
    line = dict.fromkeys(FIELDS, "") | {fact: EMPTY[kind] for fact, kind in FACTS.items()} | USUAL | case
    line = {f"{field}_written": line[field] for field in FIELDS} | line
    for axis in ("latitude", "longitude"):
        text, written = line[f"decimal{axis.title()}"], line[f"decimal{axis.title()}_written"]
        is_plain = written.lstrip("-").replace(".", "", 1).isdigit()
        found = {axis: float(text or "nan")}
        found[f"{axis}_decimals"] = float(len(written.partition(".")[2])) if is_plain else float("nan")
        line |= found | {name: case[name] for name in found if name in case}
        line[f"place_{axis}"] = case.get(f"place_{axis}", line[axis])
    line["uncertainty_metres"] = float(line["coordinateUncertaintyInMeters"] or "nan")
    if len(line["eventDate"]) == 10 and "first_day" not in case:
        line["first_day"] = line["last_day"] = pd.Timestamp(line["eventDate"])
    line["has_place_words"] = any(line[name] for name in ("locality", "municipality", "county", "stateProvince"))
    return line


def people_of(*lines: dict[str, str]) -> pd.DataFrame:
    return pd.DataFrame(
        [dict.fromkeys(PEOPLE_COLUMNS, "") | line for line in lines], columns=PEOPLE_COLUMNS, dtype="str"
    )


def settings_of(text: str = "") -> Settings:
    """Settings in which nobody's most used place is looked for, unless the case says so."""
    return read_settings(text or '[privacy]\nhome_unknown = "none"\n')


def batch_of(
    rows: pd.DataFrame,
    settings: Settings | None = None,
    people: pd.DataFrame | None = None,
    lists: PortalLists = LISTS,
) -> Batch:
    settings = settings or settings_of()
    kept = privacy(rows, people_of() if people is None else people, settings, rows, NOTHING_SENSITIVE)
    return export(rows, match_finds(rows, nothing_elsewhere(), settings), kept, lists, settings)


POINT = {"decimalLatitude": "45.5012", "decimalLongitude": "-64.8123"}
A_FIND = {
    "recordKind": "find",
    "key": "00000000-0000-5000-8000-000000000002",
    "occurrence_id": FIND,
    "eventDate": "2026-11-20",
    "person_id": "",
    "decimalLatitude": "19.6001",
    "decimalLongitude": "-100.2402",
    "countryCode": "MX",
    "file": "finds.csv",
    "row": 3,
}
