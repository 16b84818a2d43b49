"""The coordinator's list of what the tests of the data quality draft say of the last batch."""

from __future__ import annotations

import csv
import sqlite3
from collections.abc import Mapping
from datetime import date
from pathlib import Path
from typing import Any

import pandas as pd

from pipeline.files.csv_files import write_csv
from pipeline.files.gate_client import Gate, ask_audit, said_by
from pipeline.files.outbox import unless_held_open

NAME, CORE = "coordinator/audit.csv", "occurrence.csv"
COLUMNS = (
    "batch_id", "test", "test_id", "records", "says", "is_known", "occurrenceID", "file", "sheet", "row",
)  # fmt: skip


def ask_about_batch(gate: Gate | None, ledger: sqlite3.Connection, outbox: Path, today: date) -> str:
    """Has the last batch audited unless the list tells of it already; gives its id, "" where nothing was asked."""
    batch_id = batch_to_audit(ledger, outbox)
    if gate is None or not batch_id:
        return ""
    ask_audit(gate, outbox / "portal" / batch_id, today)
    return batch_id


def batch_to_audit(ledger: sqlite3.Connection, outbox: Path) -> str:
    """The last batch if the list does not tell of it, as after a run that was ended; else ""."""
    batch_id = str(ledger.execute("SELECT coalesce(max(batch_id), '') FROM batches").fetchone()[0])
    is_there = (outbox / "portal" / batch_id / CORE).is_file()
    return batch_id if is_there and not _is_told(outbox / NAME, batch_id) else ""


def _is_told(path: Path, batch_id: str) -> bool:
    if not path.is_file():
        return False
    with path.open(encoding="utf-8", newline="") as lines:
        return next((line["batch_id"] for line in csv.DictReader(lines)), "") == batch_id


def told_of_batch(gate: Gate | None, batch_id: str, ledger: sqlite3.Connection, outbox: Path) -> tuple[str, ...]:
    """Writes the list of the batch that was asked about, as soon as the audit is through; a sentence on it."""
    if gate is None or not batch_id:
        return ()
    told = said_by(gate)
    stuck = unless_held_open(outbox / NAME, lambda path: write_audit(path, ledger, batch_id, told))
    return (sentence(told), *(f"{path} is open in another program: close it and run again" for path in stuck))


def write_audit(path: Path, ledger: sqlite3.Connection, batch_id: str, told: Mapping[str, Any]) -> None:
    """Writes the list.

    A line for each difference that is known, with how many records have it, and for each other record that does not
    comply, with the row that it came from; one line where there is nothing to say.
    """
    places: dict[str, tuple[str, ...]] = dict.fromkeys((one[3] for one in told["listed"]), ("", "", ""))
    for occurrence_id in places:
        found = ledger.execute("SELECT file, sheet, row FROM rows WHERE occurrence_id = ?", (occurrence_id,)).fetchone()
        places[occurrence_id] = tuple(map(str, found)) if found else ("", "", "")
    lines = [
        (test, test_id, str(records), reason, "yes", *[""] * 4) for test, test_id, reason, records in told["known"]
    ]
    lines += [
        (test, test_id, "1", comment, "no", record, *places[record])
        for test, test_id, comment, record in told["listed"]
    ]
    lines = lines or [("", "", "0", "nothing", "", *[""] * 4)]
    write_csv(
        path, pd.DataFrame([(batch_id, *line) for line in lines], columns=list(COLUMNS), dtype="str"), guarded=True
    )


def sentence(told: Mapping[str, Any]) -> str:
    """What the audit of a batch comes to, in one line."""
    records, known = told["records"], sum(one[3] for one in told["known"])
    wanting = len({one[3] for one in told["listed"]})
    said = f"the standard's data quality tests (a draft) on {records} records: {known} answers differ for known reasons"
    if wanting:
        return f"{said}, and {wanting} records are to be looked at; all in coordinator/audit.csv"
    return f"{said} (coordinator/audit.csv), nothing else"
