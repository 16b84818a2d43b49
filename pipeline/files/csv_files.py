"""Reads and writes the CSV files: UTF-8, LF, RFC 4180; written beside its place and then renamed."""

from __future__ import annotations

import hashlib
from pathlib import Path

import numpy as np
import pandas as pd
import pyarrow as pa
import pyarrow.compute as pc
import pyarrow.csv as pacsv

# A spreadsheet may run a text that starts so, also in its full-width form (OWASP, CSV injection).
RUNS = r"^(?:[=@\t\r\n\x00＝＠]|[+\-＋－])"
OPTIONS = pacsv.WriteOptions(quoting_style="needed", quoting_header="none")
NUMBER = r"^[+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?$"


def write_csv(path: Path, frame: pd.DataFrame, guarded: bool) -> None:
    """Writes a table; `guarded`, for people's files, puts an apostrophe before texts that may run.

    Days are written as ISO 8601, yes-no columns as yes and no, what is missing as blank.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    beside = path.with_name(f"{path.name}.part")
    try:
        pacsv.write_csv(_table(frame, guarded), beside, OPTIONS)
        beside.replace(path)
    finally:
        beside.unlink(missing_ok=True)


def csv_lines(frame: pd.DataFrame) -> list[bytes]:
    """The lines of a table whose cells hold no line breaks, as write_csv would write them, without the heading."""
    written = pa.BufferOutputStream()
    pacsv.write_csv(_table(frame, False), written, OPTIONS)
    lines: list[bytes] = written.getvalue().to_pybytes().split(b"\n")
    return lines[1 : len(frame) + 1]


def _table(frame: pd.DataFrame, guarded: bool) -> pa.Table:
    return pa.table({name: _texts(frame[name], guarded) for name in frame.columns})


def read_csv(path: Path) -> pd.DataFrame:
    """A table of ours as text, as written: nothing is taken for a number, a blank or a missing value."""
    with pacsv.open_csv(path, parse_options=pacsv.ParseOptions(newlines_in_values=True)) as reader:
        names = reader.schema.names
    table = pacsv.read_csv(
        path,
        parse_options=pacsv.ParseOptions(newlines_in_values=True),
        convert_options=pacsv.ConvertOptions(
            column_types=dict.fromkeys(names, pa.string()),
            strings_can_be_null=False,
            quoted_strings_can_be_null=False,
        ),
    )
    frame: pd.DataFrame = table.to_pandas(types_mapper=lambda _: pd.StringDtype("pyarrow", na_value=np.nan))
    return frame


def _texts(column: pd.Series, guarded: bool) -> pa.ChunkedArray | pa.Array:
    texts = pa.array(_as_text(column), type=pa.large_string(), from_pandas=True)
    if isinstance(texts, pa.ChunkedArray):
        texts = texts.combine_chunks()
    texts = pc.fill_null(texts, "")
    if not guarded or pd.api.types.is_numeric_dtype(column):
        return texts
    runs = pc.and_not(pc.match_substring_regex(texts, RUNS), pc.match_substring_regex(texts, NUMBER))
    apostrophe, nothing = (pa.scalar(text, pa.large_string()) for text in ("'", ""))
    return pc.if_else(runs, pc.binary_join_element_wise(apostrophe, texts, nothing), texts)


def _as_text(column: pd.Series) -> pd.Series:
    if pd.api.types.is_bool_dtype(column):
        return column.map({True: "yes", False: "no"}).astype("str")
    if pd.api.types.is_datetime64_any_dtype(column):
        days: pd.Series = column.dt.strftime("%Y-%m-%d").astype("str")
        return days
    if pd.api.types.is_float_dtype(column):
        return column.map(lambda number: f"{number:.10g}", na_action="ignore").astype("str")
    return column.astype("str")


def sha256s(folder: Path) -> dict[str, str]:
    """The SHA-256 of each file of a folder, by name."""
    return {path.name: hashlib.sha256(path.read_bytes()).hexdigest() for path in sorted(folder.iterdir())}
