"""The dataset as a Data Package: organism, event and occurrence apart. A draft, for the tables are not a standard yet.

The guide for Darwin Core data packages was ratified on 2026-05-26; its table schemas were under public review. So the
columns are terms of the list of terms, the package's `profile` is the open standard's own, and the description says so.
"""

from __future__ import annotations

import json
import re
import shutil
import sqlite3
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path
from typing import Any

import numpy as np
import pyarrow as pa
import pyarrow.compute as pc

from pipeline.files.archive_tables import CORE, EXTENSIONS, Whole, coded, whole
from pipeline.files.csv_files import write_csv
from pipeline.files.outbox import STAGING
from pipeline.files.schemas import table
from pipeline.settings import Settings

NAME = "data-package"
DRAFT = (
    "DRAFT. The table schemas of the Darwin Core Data Package were not published when this was written: tables and "
    "keys follow the draft as it was described, columns are terms of Darwin Core. Measures keep the terms of "
    "MeasurementOrFact and names stay with the occurrence, for the draft's own columns for them were not known."
)
ORGANISM = ("organismID", "organismName", "causeOfDeath")
PLACES = {"Event", "Location"}  # classes of terms that tell of an event
NUMBERS = frozenset({
    "decimalLatitude", "decimalLongitude", "coordinateUncertaintyInMeters", "coordinatePrecision",
    "minimumElevationInMeters",
})  # fmt: skip
# Table: its own key, and the columns that point to another table's key.
KEYS: dict[str, tuple[str, dict[str, str]]] = {
    "organism": ("organismID", {}),
    "event": ("eventID", {}),
    "occurrence": ("occurrenceID", {"eventID": "event", "organismID": "organism"}),
    "occurrence-assertion": ("measurementID", {"occurrenceID": "occurrence"}),
    "resource-relationship": ("resourceRelationshipID", {"occurrenceID": "occurrence"}),
}


def write_data_package(outbox: Path, ledger: sqlite3.Connection, settings: Settings) -> str:
    """Writes portal/data-package anew; returns a sentence for the coordinator."""
    (day,) = ledger.execute("SELECT max(day) FROM batches").fetchone()
    if not day:
        return "No Data Package: nothing was published yet."
    staged, place = outbox / STAGING / NAME, outbox / "portal" / NAME
    shutil.rmtree(staged, ignore_errors=True)
    tables = apart(whole(ledger))
    for name, one in tables.items():
        write_csv(staged / f"{name}.csv", one.to_pandas(), guarded=False)
    text = json.dumps(_descriptor(tables, settings, day), indent=2, ensure_ascii=False) + "\n"
    (staged / "datapackage.json").write_text(text, encoding="utf-8", newline="\n")
    shutil.rmtree(place, ignore_errors=True)
    place.parent.mkdir(parents=True, exist_ok=True)
    staged.rename(place)
    with suppress(OSError):  # not empty: the next run clears it
        staged.parent.rmdir()
    return f"The Data Package is in outbox/portal/{NAME}. It is marked as a draft: so is the standard for its tables."


def apart(tables: Whole) -> dict[str, pa.Table]:
    """Organism, event, occurrence, measures and links as tables of their own, each line with its key first."""
    core = tables[CORE]
    of_class = {line["term"]: line["class"] for line in table("darwin_core_terms.csv")}
    of_event = [name for name in core.column_names if of_class.get(name) in PLACES]
    event_id = pc.binary_join_element_wise(core["occurrenceID"].cast(pa.string()), pa.scalar("event"), "#")
    rest = [name for name in core.column_names if name not in (*of_event, *ORGANISM, "occurrenceID")]
    measures, links = (tables[name] for name in EXTENSIONS)
    return {
        "organism": _organisms(core),
        "event": pa.table({"eventID": event_id, **_columns(core, of_event)}),
        "occurrence": pa.table(
            {
                "occurrenceID": core["occurrenceID"], "eventID": event_id, "organismID": core["organismID"],
                **_columns(core, rest),
            }
        ),
        "occurrence-assertion": _with_key_first(measures, "measurementID"),
        "resource-relationship": _with_key_first(links, "resourceRelationshipID"),
    }  # fmt: skip


def _columns(one: pa.Table, names: list[str]) -> dict[str, pa.ChunkedArray]:
    return {name: one[name].cast(pa.string()) for name in names}


def _with_key_first(one: pa.Table, key: str) -> pa.Table:
    return pa.table(_columns(one, [key, *(name for name in one.column_names if name != key)]))


def _organisms(core: pa.Table) -> pa.Table:
    """A line for each tagged butterfly; what it died of comes from the find that tells it."""
    told = core.take(pa.array(np.flatnonzero(np.asarray(pc.not_equal(core["organismID"], "")))))
    is_told = np.asarray(pc.not_equal(told["causeOfDeath"].cast(pa.string()), ""))
    told = told.take(pa.array(np.argsort(~is_told, kind="stable")))
    codes, _ = coded(told["organismID"])
    first = np.unique(codes, return_index=True)[1]
    one = told.select(ORGANISM).take(pa.array(first))
    return one.take(pc.sort_indices(one["organismID"].cast(pa.string())))


def _descriptor(tables: Mapping[str, pa.Table], settings: Settings, day: str) -> dict[str, Any]:
    programme = settings.programme
    contact = {"email": programme.contact} if "@" in programme.contact else {}
    return {
        "profile": "data-package",
        "name": re.sub(r"[^a-z0-9._-]+", "-", programme.id.lower()),
        "title": f"{programme.name}: butterflies tagged, released and found again",
        "description": DRAFT,
        "status": "draft",
        "created": f"{day}T00:00:00Z",
        "licenses": [{"path": programme.licence}],
        "contributors": [{"title": programme.name, **contact, "role": "contact"}],
        "resources": [_resource(name, one) for name, one in tables.items()],
    }


def _resource(name: str, one: pa.Table) -> dict[str, Any]:
    key, points_to = KEYS[name]
    keys = [
        {"fields": column, "reference": {"resource": other, "fields": KEYS[other][0]}}
        for column, other in points_to.items()
    ]
    return {
        "name": name, "path": f"{name}.csv", "profile": "tabular-data-resource", "mediatype": "text/csv",
        "format": "csv", "encoding": "utf-8",
        "schema": {
            "fields": [_field(column) for column in one.column_names], "missingValues": [""], "primaryKey": key,
            **({"foreignKeys": keys} if keys else {}),
        },
    }  # fmt: skip


def _field(name: str) -> dict[str, str]:
    term = next(line for line in table("darwin_core_terms.csv") if line["term"] == name)
    return {
        "name": name,
        "title": re.sub(r"(?<=[a-z])(?=[A-Z])", " ", name).capitalize(),
        "description": term["meaning"],
        "type": "number" if name in NUMBERS else "string",
        "dcterms:isVersionOf": term["iri"],
    }
