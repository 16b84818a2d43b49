"""What the tests of the data quality draft say of a batch: what differs as is known, and what to look at."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt

from pipeline.audit.all_tests import all_tests
from pipeline.audit.audit import Answered, Asked, answered
from pipeline.audit.columns import Column
from pipeline.files.audit_lines import CORE
from pipeline.files.audit_sources import audit_sources
from pipeline.files.csv_files import read_columns
from pipeline.files.schemas import table


def audit_of(folder: Path, today: date) -> dict[str, Any]:
    """Validations with which records of a batch do not comply.

    `known`: test, its id, the reason, how many records. `listed`: test, its id, the comment, the record's id.
    """
    columns = {
        name: Column(column.values.tolist(), np.asarray(column.places, dtype=np.int64))
        for name, column in read_columns(folder / CORE).items()
    }
    records = len(columns["occurrenceID"].places)
    known: list[tuple[str, str, str, int]] = []
    listed: list[tuple[str, str, str, str]] = []
    sources, before = audit_sources(today), Asked()
    for entry in all_tests():
        if entry.test.kind == "Validation":
            said = answered(entry, columns, records, sources, before)
            rest = _without_known(said, columns, records, known)
            listed += _told(said, columns, rest)
    return {"records": records, "known": known, "listed": listed}


def _without_known(
    said: Answered, columns: Mapping[str, Column], records: int, known: list[tuple[str, str, str, int]]
) -> npt.NDArray[np.int64]:
    """The records that do not comply but for those that differ as we know, which are counted."""
    is_wrong = np.array([one.result == "NOT_COMPLIANT" for one in said.responses.values], dtype=bool)
    rest = is_wrong[said.responses.places]
    test = said.entry.test
    for line in table("audit_known.csv"):
        if line["test"] == test.label:
            differs = rest & _holds(columns.get(line["column"]), line["values"], records)
            if differs.any():
                known.append((test.label, test.test_id, line["reason"], int(differs.sum())))
                rest &= ~differs
    return np.flatnonzero(rest)


def _holds(column: Column | None, values: str, records: int) -> npt.NDArray[np.bool_]:
    """Which records have one of the values in a column, where several stand in a cell as one of them."""
    if column is None:
        return np.full(records, values == "")
    wanted = set(values.split(" | "))
    return np.array([not wanted.isdisjoint(str(cell).split(" | ")) for cell in column.values], dtype=bool)[
        column.places
    ]


def _told(
    said: Answered, columns: Mapping[str, Column], which: npt.NDArray[np.int64]
) -> list[tuple[str, str, str, str]]:
    ids, responses, test = columns["occurrenceID"], said.responses, said.entry.test
    return [
        (test.label, test.test_id, responses.values[responses.places[at]].comment, str(ids.values[ids.places[at]]))
        for at in which.tolist()
    ]
