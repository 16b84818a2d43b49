"""A ledger with one published batch, made from the few cells that a case names; and small batches beside it."""

from __future__ import annotations

import sqlite3
from collections.abc import Mapping
from pathlib import Path

import pandas as pd

from pipeline.files.archive_batches import keep_batch
from pipeline.files.csv_files import write_csv
from pipeline.files.ledger_schema import bring_forward
from pipeline.files.schemas import portal_columns

USUAL = {
    "modified": "2026-10-20", "license": "https://creativecommons.org/licenses/by/4.0/legalcode",
    "basisOfRecord": "HumanObservation", "occurrenceStatus": "detected", "eventType": "Release",
    "eventDate": "2026-09-03", "decimalLatitude": "46.1", "decimalLongitude": "-64.8", "country": "Canada",
    "stateProvince": "New Brunswick", "scientificName": "Danaus plexippus", "taxonRank": "species",
    "genus": "Danaus", "family": "Nymphalidae", "kingdom": "Animalia", "organismID": "marsh:2026:AB0001",
    "organismName": "AB0001",
}  # fmt: skip


def ledger_with(folder: Path, records: Mapping[str, Mapping[str, str]]) -> sqlite3.Connection:
    """A ledger whose one batch has these records by id, each with a measure."""
    ledger = sqlite3.connect(":memory:", isolation_level=None)
    bring_forward(ledger, 0)
    add_batch(ledger, folder, records)
    return ledger


def add_batch(
    ledger: sqlite3.Connection, folder: Path, records: Mapping[str, Mapping[str, str]], gone: tuple[str, ...] = ()
) -> None:
    """One more batch with these records, and these ids withdrawn."""
    number = ledger.execute("SELECT count(*) + 1 FROM batches").fetchone()[0]
    columns, batch = portal_columns(), folder / f"2026-{number:04d}"
    lines = [{**USUAL, "occurrenceID": record, **cells} for record, cells in records.items()]
    measures = [
        {"occurrenceID": record, "measurementID": f"{record}#wing", "measurementType": "wing span",
         "measurementValue": "91", "measurementUnit": "mm"}
        for record in records
    ]  # fmt: skip
    for name, told in (("occurrence", lines), ("measurementOrFact", measures), ("resourceRelationship", [])):
        table = pd.DataFrame(told, columns=list(columns[name]), dtype="str").fillna("")
        write_csv(batch / f"{name}.csv", table, guarded=False)
    withdrawn = pd.DataFrame(
        [(one, "", "") for one in gone], columns=["occurrenceID", "reason", "modified"], dtype="str"
    )
    write_csv(batch / "withdrawn.csv", withdrawn, guarded=False)
    keep_batch(ledger, batch.name, batch)
    day = f"2026-10-{19 + number}"
    ledger.execute(
        "INSERT INTO batches VALUES (?, ?, ?, ?, '{}', ?)", (batch.name, day, len(records), len(gone), number)
    )
