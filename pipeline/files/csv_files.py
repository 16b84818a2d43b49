"""Reads and writes the CSV files: UTF-8, LF, RFC 4180; written beside its place and then renamed."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from itertools import chain
from pathlib import Path
from typing import NamedTuple

import numpy as np
import numpy.typing as npt
import pandas as pd
import pyarrow as pa
import pyarrow.compute as pc
import pyarrow.csv as pacsv

# A spreadsheet may run a text that starts so, also in its full-width form (OWASP, CSV injection).
RUNS = r"^(?:[=@\t\r\n\x00＝＠]|[+\-＋－])"
OPTIONS = pacsv.WriteOptions(quoting_style="needed", quoting_header="none")
BLOCK_BYTES = 1 << 23  # read at a time
# What only we write into, and never so that it could run.
OUR_OWN = frozenset({
    "row", "column", "field", "state", "occurrence_id", "occurrenceID", "batch_id", "part", "file_sha256", "why",
})  # fmt: skip
PIECE = 50_000  # lines written at a time
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


def write_csv_pieces(path: Path, frames: Iterable[pd.DataFrame], guarded: bool) -> None:
    """Writes a table that comes in pieces with the same columns, at least one; else as `write_csv`."""
    path.parent.mkdir(parents=True, exist_ok=True)
    beside = path.with_name(f"{path.name}.part")
    pieces = (_table(frame, guarded) for frame in frames)
    first = next(pieces)
    try:
        with pacsv.CSVWriter(beside, first.schema, write_options=OPTIONS) as file:
            for piece in chain([first], pieces):
                file.write_table(piece.cast(first.schema))
        beside.replace(path)
    finally:
        beside.unlink(missing_ok=True)


@dataclass(frozen=True)
class CsvFile:
    """A file for people that is written piece by piece beside its place; `place` puts it there."""

    path: Path
    columns: Sequence[str]
    writer: pacsv.CSVWriter
    waiting: list[list[str]]  # cells of each column that are not yet written

    def add(self, cells: Sequence[Sequence[str]]) -> None:
        """Adds lines, column by column; many small pieces are written as one."""
        for column, texts in zip(self.waiting, cells, strict=True):
            column.extend(texts)
        if len(self.waiting[0]) >= PIECE:
            self.write_waiting()

    def write_waiting(self) -> None:
        """Writes what waits, texts that may run guarded."""
        texts = [
            array if name in OUR_OWN else safe_texts(array)
            for name, array in zip(
                self.columns, (pa.array(cells, pa.large_string()) for cells in self.waiting), strict=True
            )
        ]
        self.writer.write_table(pa.table(dict(zip(self.columns, texts, strict=True))))
        for column in self.waiting:
            column.clear()

    def place(self) -> None:
        """Renames the file to its place."""
        _beside(self.path).replace(self.path)


def _beside(path: Path) -> Path:
    return path.with_name(f"{path.name}.part")


@contextmanager
def csv_file(path: Path, columns: Sequence[str]) -> Iterator[CsvFile]:
    """A file to write to; what is written lies beside its place until `place` is called."""
    path.parent.mkdir(parents=True, exist_ok=True)
    schema = pa.schema([(name, pa.large_string()) for name in columns])
    try:
        with pacsv.CSVWriter(_beside(path), schema, write_options=OPTIONS) as writer:
            file = CsvFile(path, columns, writer, [[] for _ in columns])
            yield file
            file.write_waiting()
    except BaseException:
        _beside(path).unlink(missing_ok=True)
        raise


def _table(frame: pd.DataFrame, guarded: bool) -> pa.Table:
    return pa.table({name: _texts(frame[name], guarded) for name in frame.columns})


class Column(NamedTuple):
    """A column of a file: its different values, and which of them stands on each row (counted from 0)."""

    values: pd.Series
    places: npt.NDArray[np.int64]


def column_of(texts: Sequence[str]) -> Column:
    """A column that stands in no file."""
    places, values = pd.factorize(pd.Series(texts, dtype="str"))
    return Column(pd.Series(values, dtype="str"), places)


def read_columns(path: Path) -> dict[str, Column]:
    """A table of ours as text, as written: nothing is taken for a number, a blank or a missing value."""
    parsing = pacsv.ParseOptions(newlines_in_values=True)
    with pacsv.open_csv(path, parse_options=parsing) as reader:
        names = reader.schema.names
    table = pacsv.read_csv(
        path,
        read_options=pacsv.ReadOptions(block_size=BLOCK_BYTES),
        parse_options=parsing,
        convert_options=pacsv.ConvertOptions(
            column_types=dict.fromkeys(names, pa.dictionary(pa.int32(), pa.string())),
            strings_can_be_null=False,
            quoted_strings_can_be_null=False,
        ),
    )
    return {name: _column(table[name]) for name in table.column_names}


def _column(cells: pa.ChunkedArray) -> Column:
    whole = cells.unify_dictionaries().combine_chunks() if len(cells) else pa.array([], pa.string()).dictionary_encode()
    values = whole.dictionary.to_pandas(types_mapper=lambda _: pd.StringDtype("pyarrow", na_value=np.nan))
    return Column(values, whole.indices.to_numpy().astype("int64"))


def _texts(column: pd.Series, guarded: bool) -> pa.Array:
    texts = pa.array(_as_text(column), type=pa.large_string(), from_pandas=True)
    if isinstance(texts, pa.ChunkedArray):
        texts = texts.combine_chunks()
    if texts.null_count:
        texts = pc.fill_null(texts, "")
    return safe_texts(texts) if guarded and not pd.api.types.is_numeric_dtype(column) else texts


def safe_texts(texts: pa.Array) -> pa.Array:
    """The texts, those that a spreadsheet may run behind an apostrophe."""
    coded = texts.dictionary_encode()  # each different text is looked at once
    different = coded.dictionary
    runs = pc.match_substring_regex(different, RUNS)
    if not pc.any(runs).as_py():
        return texts
    runs = pc.and_not(runs, pc.match_substring_regex(different, NUMBER))
    apostrophe, nothing = (pa.scalar(text, pa.large_string()) for text in ("'", ""))
    safe = pc.if_else(runs, pc.binary_join_element_wise(apostrophe, different, nothing), different)
    return safe.take(coded.indices)


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
