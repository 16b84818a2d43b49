"""Writes a batch: what is new or changed, with its measures and links, which of it the portal knows, what goes back."""

from __future__ import annotations

import shutil
from collections.abc import Sequence
from pathlib import Path

import pandas as pd

from pipeline.files.csv_files import write_csv
from pipeline.frames import is_among

TABLES = ("occurrence", "measurementOrFact", "resourceRelationship")
ESTABLISHED = "relationshipEstablishedDate"


def write_batch(staged: Path, tables: Sequence[pd.DataFrame], changed: pd.DataFrame, gone: pd.DataFrame) -> None:
    """Writes a batch into a folder of its own: of the tables only what is `changed`, and what is `gone`.

    `tables` in the order of TABLES; `changed` has occurrence_id, modified and before (the last batch that the record
    was in, blank for a new one), `gone` the columns of withdrawn.csv. changed.csv names what the portal knows already.
    """
    shutil.rmtree(staged, ignore_errors=True)
    staged.mkdir(parents=True)
    modified = changed.set_index("occurrence_id")["modified"]
    for name, table in zip(TABLES, tables, strict=True):
        lines = table[is_among(table["occurrenceID"], modified.index)]
        if name == "occurrence":
            lines = lines.assign(modified=lines["occurrenceID"].map(modified))
        if name == "resourceRelationship":
            lines = lines.assign(**{ESTABLISHED: lines["occurrenceID"].map(modified).astype("str")})
        write_csv(staged / f"{name}.csv", lines, guarded=False)
    known = changed[changed["before"] != ""].rename(columns={"occurrence_id": "occurrenceID", "before": "batchBefore"})
    write_csv(staged / "changed.csv", known[["occurrenceID", "batchBefore", "modified"]], guarded=False)
    write_csv(staged / "withdrawn.csv", gone, guarded=False)
