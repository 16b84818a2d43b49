"""The gate: looks at a batch's finished files as a stranger would, and says why it may not leave.

`python -m pipeline.files.gate` reads what is asked, for an audit a day, and a folder's path per line and writes a
verdict, or what the audit says, as JSON per line; it ends when its input closes. It is a process of its own because
its library takes seconds to import.
"""

from __future__ import annotations

import csv
import json
import math
import os
import sys
import time
from collections.abc import Iterator
from datetime import date
from itertools import pairwise
from pathlib import Path
from typing import Any

os.environ["GX_ANALYTICS_ENABLED"] = "false"  # read once, when the library is imported

import great_expectations as gx
import numpy as np
import pandas as pd
import pyarrow as pa
from great_expectations.data_context.types.base import ProgressBarsConfig
from great_expectations.expectations.expectation_configuration import ExpectationConfiguration

from pipeline.files.csv_files import Column, column_of, read_columns
from pipeline.files.gate_audit import audit_of
from pipeline.files.gate_client import AUDIT
from pipeline.files.gate_facts import Columns, odd_cells, with_facts
from pipeline.files.schemas import table, text

TABLES = ("occurrence", "measurementOrFact", "resourceRelationship")
MANY = 5  # how many of the cells refused are shown
SIZES = (0, 1_000, 20_000, math.inf)  # columns with about as many values are judged together
Refusal = dict[str, Any]
Expectation = dict[str, Any]


def main() -> None:
    """A verdict for each folder named on the input, or what the audit says of it, until it closes."""
    # Whatever a library prints must not stand among the verdicts.
    verdicts, sys.stdout = sys.stdout, sys.stderr
    sys.stdin.reconfigure(encoding="utf-8")  # type: ignore[union-attr]
    frames = _frames()
    for line in sys.stdin:
        what, _, told = line.rstrip("\n").partition("\t")
        if what == AUDIT:
            day, _, folder = told.partition("\t")
            said = audit_of(Path(folder), date.fromisoformat(day))
        else:
            said = verdict(Path(told), frames)
        print(json.dumps(said), file=verdicts, flush=True)


def verdict(folder: Path, frames: Any) -> dict[str, Any]:
    """passed, refusals (file, column, means, rows, some), seconds."""
    began = time.monotonic()
    refusals = list(_refusals(folder, frames))
    return {"passed": not refusals, "refusals": refusals, "seconds": round(time.monotonic() - began, 3)}


def _frames() -> Any:
    """Where the library takes a table from; one for the life of the process."""
    context = gx.get_context(mode="ephemeral")
    context.variables.progress_bars = ProgressBarsConfig(globally=False)
    return (
        context.data_sources.add_pandas("batch")
        .add_dataframe_asset("table")
        .add_batch_definition_whole_dataframe("all")
    )


def _refusals(folder: Path, frames: Any) -> Iterator[Refusal]:
    core = pd.Series(dtype="str")
    for name in TABLES:
        path = folder / f"{name}.csv"
        if not path.is_file():
            if name == TABLES[0]:
                yield _refusal(path.name, "", "The file is missing from the batch.", 0, [])
            continue
        suite = json.loads(text(f"gate_{name}.json"))
        headings = _headings(path)
        columns = {"heading": column_of(headings), "first heading": column_of(headings[:1] * len(headings))}
        yield from _judged(path.name, frames, columns, suite["headings"])
        if len(set(headings)) < len(headings):
            continue  # refused already, and a column cannot be told from its double
        try:
            rows = read_columns(path)
        except pa.ArrowInvalid:
            yield _refusal(path.name, "", "The file cannot be read as CSV in UTF-8.", 0, [])
            continue
        core = rows["occurrenceID"].values if name == TABLES[0] and "occurrenceID" in rows else core
        yield from _judged(path.name, frames, odd_cells(rows), suite["cells"])
        yield from _judged(path.name, frames, with_facts(rows, core), suite["rows"])


def _headings(path: Path) -> list[str]:
    with path.open(encoding="utf-8", errors="replace", newline="") as lines:
        return next(csv.reader(lines), [])


def _judged(file: str, frames: Any, rows: Columns, expectations: list[Expectation]) -> Iterator[Refusal]:
    """What the rows do not fulfil; an expectation about a column that is not there says nothing."""
    asked = [each for each in expectations if each["kwargs"].get("column", next(iter(rows))) in rows]
    for part, of_part in _parts(rows, asked):
        # The short answer takes half the time of the long one, and is all that a clean batch needs.
        refused = [each for each, result in _results(file, frames, part, of_part, "BOOLEAN_ONLY") if not result.success]
        for expectation, result in _results(file, frames, part, refused, "COMPLETE"):
            yield from _told(file, rows, expectation, result.result)


def _parts(rows: Columns, expectations: list[Expectation]) -> Iterator[tuple[pd.DataFrame, list[Expectation]]]:
    """The columns in tables that hold no more than is asked about: of most columns the different values once."""
    of_column: dict[str, list[Expectation]] = {}
    for each in expectations:
        of_column.setdefault(each["kwargs"].get("column", ""), []).append(each)
    of_headings = of_column.pop("", [])
    values = {name: _values_asked_about(rows[name], own) for name, own in of_column.items()}
    for least, most in pairwise(SIZES):  # shorter columns are filled up with missing values
        part = {name: column for name, column in values.items() if least <= len(column) < most}
        asked = [each for name in part for each in of_column[name]]
        if least:
            yield pd.DataFrame(part), asked
        else:
            yield pd.DataFrame(part).reindex(columns=list(rows)), [*of_headings, *asked]


def _values_asked_about(column: Column, expectations: list[Expectation]) -> pd.Series:
    """Each value once, but all of them where that is what is asked."""
    is_whole = any(each["expectation"] == "expect_column_values_to_be_unique" for each in expectations)
    if is_whole and len(column.values) < len(column.places):
        return column.values.take(column.places).reset_index(drop=True)
    return column.values


def _results(
    file: str, frames: Any, rows: pd.DataFrame, expectations: list[Expectation], result_format: str
) -> list[tuple[Expectation, Any]]:
    if not expectations:
        return []
    suite = gx.ExpectationSuite(
        name=file,
        expectations=[
            ExpectationConfiguration(type=each["expectation"], kwargs=_filled(each["kwargs"]), meta={"place": place})
            for place, each in enumerate(expectations)
        ],
    )
    results = frames.get_batch({"dataframe": rows}).validate(suite, result_format=result_format).results
    for result in results:
        if result.exception_info.get("raised_exception"):
            raise RuntimeError(f"{file}: {result.exception_info['exception_message']}")
    return [(expectations[result.expectation_config.meta["place"]], result) for result in results]


def _filled(kwargs: dict[str, Any]) -> dict[str, Any]:
    """The arguments with lists of values taken from the tables of schemas/."""
    return {name: _values(value) if isinstance(value, dict) else value for name, value in kwargs.items()}


def _values(source: dict[str, Any]) -> list[str]:
    where = source.get("where", {})
    lines = [line for line in table(source["table"]) if all(line[key] == value for key, value in where.items())]
    return [*source.get("also", ()), *dict.fromkeys(line[source["column"]] for line in lines)]


def _told(file: str, rows: Columns, expectation: Expectation, result: dict[str, Any]) -> Iterator[Refusal]:
    """One refusal, with how many rows hold the cells; of cells from all columns, one for each column."""
    name, means = expectation["kwargs"].get("column", ""), expectation["means"]
    if not name:
        missing = result.get("details", {}).get("mismatched", {}).get("missing", [])
        yield _refusal(file, "", means, 0, missing)
        return
    values, places = rows[name]
    refused = np.flatnonzero(values.isin(result["unexpected_list"]).to_numpy()[places])
    stands_in = pd.Series(name, index=refused)
    if name == "cell":
        stands_in = rows["column"].values.take(rows["column"].places[refused]).set_axis(refused)
    for column, own in stands_in.groupby(stands_in, sort=False):
        some = dict.fromkeys(str(values[place]) for place in places[own.index[: MANY * 20]])
        yield _refusal(file, str(column).removesuffix(" as number"), means, len(own), list(some))


def _refusal(file: str, column: str, means: str, rows: int, some: list[str]) -> Refusal:
    return {"file": file, "column": column, "means": means, "rows": rows, "some": some[:MANY]}


if __name__ == "__main__":
    main()
    os._exit(0)  # every verdict is out; taking the libraries down in order would cost a second
