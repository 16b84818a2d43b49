"""The whole dataset as of the last batch: each batch laid over those before it, what was withdrawn taken out."""

from __future__ import annotations

import sqlite3
from collections.abc import Sequence
from typing import Any, NamedTuple

import numpy as np
import numpy.typing as npt
import pyarrow as pa
import pyarrow.compute as pc
import pyarrow.csv as pacsv

from pipeline.files.archive_batches import batch_file, batch_ids
from pipeline.files.schemas import portal_columns

ID = "occurrenceID"
CORE, *EXTENSIONS = ("occurrence", "measurementOrFact", "resourceRelationship")
BLOCK_BYTES = 1 << 23
CODED = pa.dictionary(pa.int32(), pa.string())
Numbers = npt.NDArray[np.int64]
Whole = dict[str, pa.Table]  # by the name of the table, in the order of CORE, *EXTENSIONS; cells are texts, most coded


class _Kept(NamedTuple):
    """Which records stay: their ids, the place of each in the order of ids (-1 if it is gone), its last batch."""

    ids: pa.Array
    place: Numbers
    batch: Numbers


def whole(ledger: sqlite3.Connection) -> Whole:
    """Every record that the portal has, as it was last published, in the order of the ids.

    Of a record that came in several batches the last line counts, with the measures and links of that batch.
    """
    batches = batch_ids(ledger)
    core, batch = _stacked(ledger, batches, CORE)
    kept, lines = _kept(ledger, batches, core, batch)
    tables = {CORE: core.take(pa.array(lines))}
    for name in EXTENSIONS:
        table, batch = _stacked(ledger, batches, name)
        tables[name] = table.take(pa.array(_lines_of(table, batch, kept)))
    return tables


def texts_of(column: pa.ChunkedArray) -> list[str]:
    """The different texts of a coded column, each once, sorted."""
    codes, values = coded(column)
    return sorted(values.take(pa.array(np.unique(codes))).to_pylist())


def coded(column: pa.ChunkedArray) -> tuple[npt.NDArray[np.int32], pa.Array]:
    """A coded column as numbers, and the text that each number stands for."""
    if not len(column):
        return np.zeros(0, dtype="int32"), pa.array([], pa.string())
    whole_column = column.unify_dictionaries().combine_chunks()
    one = whole_column if pa.types.is_dictionary(column.type) else whole_column.dictionary_encode()
    return one.indices.to_numpy(), one.dictionary


def _stacked(ledger: sqlite3.Connection, batches: Sequence[str], name: str) -> tuple[pa.Table, Numbers]:
    """All lines of a table in the order of the batches, and the number of each line's batch."""
    columns = portal_columns()[name]
    tables = [_aligned(_read(batch_file(ledger, batch_id, f"{name}.csv")), columns) for batch_id in batches]
    if not tables:
        return pa.table({column: pa.array([], _type(column)) for column in columns}), np.zeros(0, dtype="int64")
    numbers = np.repeat(np.arange(len(tables)), [table.num_rows for table in tables])
    return pa.concat_tables(tables).unify_dictionaries(), numbers


def _read(content: pa.Buffer | None) -> pa.Table:
    if content is None:
        return pa.table({})
    names = content.slice(0, min(content.size, 1 << 16)).to_pybytes().split(b"\n", 1)[0].decode().split(",")
    types: dict[str, Any] = {name: _type(name) for name in names}
    return pacsv.read_csv(
        pa.BufferReader(content),
        read_options=pacsv.ReadOptions(block_size=BLOCK_BYTES),
        parse_options=pacsv.ParseOptions(newlines_in_values=True),
        convert_options=pacsv.ConvertOptions(
            column_types=types, strings_can_be_null=False, quoted_strings_can_be_null=False
        ),
    )


def _type(name: str) -> pa.DataType:
    """Texts are coded, but for those that differ from record to record: there it would take four times as long."""
    return pa.string() if name.endswith("ID") or name == "organismName" else CODED


def _aligned(table: pa.Table, columns: Sequence[str]) -> pa.Table:
    """The columns that may leave the house today, in their order; what an older batch did not have is blank."""
    blank = pa.repeat("", table.num_rows)
    return pa.table({name: table[name] if name in table.column_names else blank.cast(_type(name)) for name in columns})


def _kept(ledger: sqlite3.Connection, batches: Sequence[str], core: pa.Table, batch: Numbers) -> tuple[_Kept, Numbers]:
    """What stays of the records, and the lines of core that say so, in the order of the ids."""
    codes, ids = coded(core[ID])
    last = np.zeros(len(ids), dtype="int64")
    last[codes] = np.arange(len(codes))  # of an id that stands on several lines the last one stays
    gone = np.full(len(ids), -1)
    for number, batch_id in enumerate(batches):
        taken_back = _read(batch_file(ledger, batch_id, "withdrawn.csv"))
        if taken_back.num_rows:
            gone[_places(taken_back[ID], ids)] = number
    order = pc.sort_indices(ids).to_numpy().astype("int64")
    order = order[batch[last[order]] > gone[order]]
    place = np.full(len(ids), -1)
    place[order] = np.arange(len(order))
    return _Kept(ids, place, batch[last]), last[order]


def _places(column: pa.ChunkedArray, ids: pa.Array) -> Numbers:
    """Where each text of a column stands among the ids; what is not among them is left out."""
    found = pc.index_in(column.cast(pa.string()), value_set=ids)
    places: Numbers = pc.drop_null(found).to_numpy().astype("int64")
    return places


def _lines_of(table: pa.Table, batch: Numbers, kept: _Kept) -> Numbers:
    """The lines of an extension that belong to the records as they are now, in the order of the records."""
    codes, ids = coded(table[ID])
    record = pc.fill_null(pc.index_in(ids, value_set=kept.ids), -1).to_numpy().astype("int64")[codes]
    known = np.flatnonzero(record >= 0)
    known = known[kept.batch[record[known]] == batch[known]]
    place = kept.place[record[known]]
    known, place = known[place >= 0], place[place >= 0]
    lines: Numbers = known[np.argsort(place, kind="stable")]
    return lines
