"""Runs every rule: cell rules as pandera column checks, the others as masks; each finding has its address."""

from __future__ import annotations

import os
from collections.abc import Iterable, Sequence
from typing import Any, NamedTuple

import pandas as pd

from pipeline.catalogue import Entry
from pipeline.findings import RuleFailed, findings_of
from pipeline.frames import FINDING_COLUMNS

os.environ.setdefault("DISABLE_PANDERA_IMPORT_WARNING", "True")


class Frames(NamedTuple):
    """What the rules of each scope see, and the columns in which the fields stand."""

    rows: pd.DataFrame
    files: pd.DataFrame
    headings: pd.DataFrame
    places: pd.DataFrame
    answers: pd.DataFrame


def validate(frames: Frames, entries: Sequence[Entry]) -> pd.DataFrame:
    """All findings, a line each, with the columns of FINDING_COLUMNS; their state is open or noted."""
    found = [*_cell_findings(frames, [entry for entry in entries if entry.rule.scope == "cell"])]
    for entry in entries:
        if entry.rule.scope == "cell":
            continue
        others = {"file": frames.files, "heading": frames.headings, "answer": frames.answers}
        frame = others.get(entry.rule.scope, frames.rows)
        found.append(findings_of(entry, frame, _mask(entry, _seen_by(entry, frame)), frames.places))
    found = [one for one in found if len(one)]
    if not found:
        return pd.DataFrame(columns=list(FINDING_COLUMNS), dtype="str")
    return pd.concat(found, ignore_index=True)


def _seen_by(entry: Entry, frame: pd.DataFrame) -> pd.DataFrame:
    """What a rule may look at: of the rows only what it names, so that none reads what it does not declare."""
    if entry.rule.scope in ("file", "heading", "answer"):
        return frame
    named = ["person_id", "key", "recordKind", "table_id", "row", *entry.rule.fields, *entry.rule.looked_up]
    return frame[list(dict.fromkeys(named))]


def _mask(entry: Entry, frame: pd.DataFrame) -> pd.Series:
    if not len(frame):
        return pd.Series(False, index=frame.index)
    try:
        mask: pd.Series = entry.finds(frame).fillna(False).astype("bool")
        return mask
    except Exception as fault:
        raise RuleFailed(f"the rule {entry.name} could not run: {fault!r}") from fault


def _cell_findings(frames: Frames, entries: Sequence[Entry]) -> Iterable[pd.DataFrame]:
    """The cell rules, in one pandera call over the fields that any of them looks at."""
    if not len(frames.rows) or not entries:
        return
    for entry, field, index in _failed_cells(frames.rows, entries):
        mask = pd.Series(False, index=frames.rows.index)
        mask[index] = True
        yield findings_of(entry, frames.rows, mask, frames.places, field)


def _failed_cells(rows: pd.DataFrame, entries: Sequence[Entry]) -> Iterable[tuple[Entry, str, pd.Index]]:
    import pandera.pandas as pa

    by_name = {entry.name: entry for entry in entries}
    fields = sorted({field for entry in entries for field in entry.rule.fields})
    columns = {
        field: pa.Column(
            checks=[
                pa.Check(lambda cells, finds=entry.finds: ~finds(cells), name=entry.name, ignore_na=False)
                for entry in entries
                if field in entry.rule.fields
            ]
        )
        for field in fields
    }
    try:
        pa.DataFrameSchema(columns).validate(rows[fields].reset_index(drop=True), lazy=True)
    except pa.errors.SchemaErrors as failed:
        _raise_ours(failed)
        for (field, name), found in failed.failure_cases.groupby(["column", "check"]):
            yield by_name[name], field, rows.index[found["index"].astype("int64")]


def _raise_ours(failed: Any) -> None:
    """An exception inside a check comes back as a failure case without a row: it is ours, raise it again."""
    for one in failed.schema_errors:
        if one.reason_code.name == "CHECK_ERROR":
            raise RuleFailed(f"the rule {one.check.name} could not run: {one.failure_cases}") from failed
