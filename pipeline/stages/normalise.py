"""Records to rows: each cell read by its kind of value, every change noted, the original kept."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

import pandas as pd

from pipeline.frames import Normalised, Records, known_of
from pipeline.model import BLANK, ERROR, FORMULA, TEXT, Reading
from pipeline.settings import Season, Settings
from pipeline.values import day
from pipeline.values.lists import Field, Lists
from pipeline.values.parts import code_of_parts, day_of_parts, grid_of_parts
from pipeline.values.readers import CellReader, cell_reader, plain_cells

MARK = "\x1f"
BASE = ["table_id", "file", "file_sha256", "sheet", "table", "row", "part"]
ODD = ["row_is_hidden", "row_is_struck", "row_shift"]  # what is odd about a row as a whole
ASPECTS = ("", "_written", "_kind", "_doubt", "_candidates")


class _Typed(NamedTuple):
    """A field's cells as typed: the text to show, the text to read, its kind, and how to read it."""

    written: pd.Series[str]
    kinds: pd.Series[str]
    context: pd.Series[str]


def normalise(records: Records, lists: Lists, settings: Settings, west: frozenset[int] = frozenset()) -> Normalised:
    """Every field of every record in standard form; `west` are the tables whose sender writes O for west."""
    typed = records.rows
    columns: dict[str, pd.Series[str]] = {name: typed[name] for name in [*BASE, *ODD]}
    blank = pd.Series("", index=typed.index, dtype="str")
    no_kind = pd.Series(BLANK, index=typed.index, dtype="str")
    changes = []
    for field in lists.fields:
        cells = _typed(field, records, settings, west)
        if cells is None:
            parts: tuple[pd.Series[str], ...] = (blank, blank, no_kind, blank, blank)
        else:
            parts, changed = _read(cells, cell_reader(field, lists, settings), plain_cells(field, settings))
            changes.append(changed.assign(field=field.name))
        columns.update({f"{field.name}{aspect}": part for aspect, part in zip(ASPECTS, parts, strict=True)})
    rows = pd.DataFrame(columns)
    return Normalised(rows, _with_filled(_all_changes(changes), records.filled, rows))


def _with_filled(changes: pd.DataFrame, filled: pd.DataFrame, rows: pd.DataFrame) -> pd.DataFrame:
    """The changes with a line for each cell that means what stands above it, in the place of what was read there."""
    filled = filled[filled["field"].isin([*rows.columns])]
    if not len(filled):
        return changes
    index = pd.MultiIndex.from_frame(filled[["at", "field"]])
    own = ~pd.MultiIndex.from_arrays([changes.index, changes["field"]]).isin(index)
    became = [rows.at[at, field] for at, field in index]
    told = filled[["seen", "why", "field"]].assign(became=pd.Series(became, index=filled.index, dtype="str"))
    return pd.concat([changes[own], told.set_axis(filled["at"].to_numpy())[list(changes.columns)]])


def _all_changes(changes: list[pd.DataFrame]) -> pd.DataFrame:
    if not changes:
        return pd.DataFrame(columns=["seen", "became", "why", "field"], dtype="str")
    return pd.concat(changes)


def _typed(field: Field, records: Records, settings: Settings, west: frozenset[int]) -> _Typed | None:
    cells = _cells(field.name, records.rows)
    if cells is None:
        return None
    written, kinds, context = cells
    hint = records.places.loc[records.places["field"] == field.name].set_index("table_id")["hint"]
    hints = known_of(records.rows["table_id"], hint) if hint.any() else ""
    if field.read_as == "day":
        context = _orders(written, kinds, records.rows["table_id"], settings.season)
    elif field.read_as in ("latitude", "longitude"):
        is_west = records.rows["table_id"].isin(west).map({True: "o", False: ""})
        context = context + "/" + hints + "/" + is_west
    elif hint.any():
        context = context + hints
    return _Typed(written, kinds, context)


def _cells(name: str, typed: pd.DataFrame) -> tuple[pd.Series[str], pd.Series[str], pd.Series[str]] | None:
    """A field's own cells, its parts put in where its own cell is blank."""
    apart = _apart(name, typed)
    own = f"{name}_written"
    if own not in typed:
        return apart
    written = typed[own].str.strip()
    kinds = typed[f"{name}_kind"]
    context = pd.Series("", index=typed.index, dtype="str")
    if apart is None:
        return written, kinds, context
    is_own = written != ""
    return written.where(is_own, apart[0]), kinds.where(is_own, apart[1]), context.where(is_own, apart[2])


def _apart(name: str, typed: pd.DataFrame) -> tuple[pd.Series[str], pd.Series[str], pd.Series[str]] | None:
    """The field put together from the columns of its parts, with a word on how to read it."""
    if name == "eventDate" and "month_written" in typed:
        return _joined(typed, ("day", "month", "year"), day_of_parts, "")
    if name == "tagCode" and "tagDigits_written" in typed:
        return _joined(typed, ("tagLetters", "tagDigits"), code_of_parts, "")
    if name in ("decimalLatitude", "decimalLongitude"):
        axis = name.removeprefix("decimal").lower()
        if f"{axis}Degrees_written" in typed:
            names = tuple(f"{axis}{part}" for part in ("Degrees", "Minutes", "Seconds", "Hemisphere"))
            return _joined(typed, names, lambda *parts: "\t".join(parts).rstrip("\t"), "parts")
        if "coordinates_written" in typed:
            return _joined(typed, ("coordinates",), str.strip, "pair")
        if "easting_written" in typed:
            return _joined(typed, ("utmZone", "easting", "northing"), grid_of_parts, "pair")
        if "mgrs_written" in typed:
            return _joined(typed, ("mgrs",), str.strip, "pair")
    return None


def _joined(
    typed: pd.DataFrame, names: tuple[str, ...], join: Callable[..., str], context: str
) -> tuple[pd.Series[str], pd.Series[str], pd.Series[str]]:
    columns = [typed.get(f"{name}_written", pd.Series("", index=typed.index, dtype="str")) for name in names]
    keys = columns[0]
    for column in columns[1:]:
        keys = keys + MARK + column
    codes, unique = pd.factorize(keys)
    texts = pd.Series([join(*key.split(MARK)) for key in unique], dtype="str")
    written = texts.take(codes).set_axis(typed.index)
    return (
        written,
        pd.Series(TEXT, index=typed.index, dtype="str").where(written != "", BLANK),
        pd.Series(context, index=typed.index, dtype="str").where(written != "", ""),
    )


def _orders(written: pd.Series[str], kinds: pd.Series[str], tables: pd.Series[int], season: Season) -> pd.Series[str]:
    """Day-first or month-first for each row: what the texts of its column prove, else the setting."""
    codes, unique = pd.factorize(written.where(kinds == TEXT, ""))
    shown = pd.Series([day.order_shown(text, season.first_day.year) for text in unique], dtype="str").take(codes)
    day_first = tables.isin(tables[(shown == "day-first").to_numpy()].unique())
    month_first = tables.isin(tables[(shown == "month-first").to_numpy()].unique())
    orders = pd.Series(season.date_order, index=written.index, dtype="str")
    orders[day_first] = "day-first"
    orders[month_first] = "month-first"
    orders[day_first & month_first] = "ask"
    return orders


def _read(cells: _Typed, reader: CellReader, plain: str) -> tuple[tuple[pd.Series[str], ...], pd.DataFrame]:
    """Each unique cell read once: (standard form, written, kind, doubt, candidates) and the changes.

    Cells that are `plain` already, with nothing to consider beside them, are left as they are.
    """
    is_parts = cells.context.str.startswith("parts").any()
    written = cells.written.str.replace(r"\t+", " ", regex=True).str.strip() if is_parts else cells.written
    blank = pd.Series("", index=written.index, dtype="str")
    asked = cells.written != ""
    if plain:
        is_bare = cells.context.isin(["", "//"]) & ~cells.kinds.isin([ERROR, FORMULA])
        asked &= ~(is_bare & cells.written.str.fullmatch(plain))
    if not asked.any():
        return (written, written, cells.kinds, blank, blank), pd.DataFrame(
            {"seen": [], "became": [], "why": []}, dtype="str"
        )
    keys = cells.written[asked] + MARK + cells.kinds[asked] + MARK + cells.context[asked]
    codes, unique = pd.factorize(keys)
    readings = [_reading(reader, *key.rsplit(MARK, 2)) for key in unique]

    def spread(texts: list[str], otherwise: pd.Series[str]) -> pd.Series[str]:
        if not any(texts) and otherwise is blank:
            return blank
        told = pd.Series(texts, dtype="str").take(codes).set_axis(keys.index)
        return told if asked.all() else otherwise.where(~asked, told.reindex(otherwise.index, fill_value=""))

    value = spread([reading.value for reading in readings], written)
    change = spread([reading.change for reading in readings], blank)
    doubt = spread([reading.doubt for reading in readings], blank)
    candidates = spread([" | ".join(reading.candidates) for reading in readings], blank)
    is_changed = (change != "") & (value != written) & (written != "")
    changes = pd.DataFrame({"seen": written[is_changed], "became": value[is_changed], "why": change[is_changed]})
    return (value, written, cells.kinds, doubt, candidates), changes


def _reading(reader: CellReader, text: str, kind: str, context: str) -> Reading:
    if kind == ERROR:
        return Reading(text, doubt="error-cell")
    if kind == FORMULA:
        return Reading(text, doubt="formula")
    return reader(text, kind, context)
