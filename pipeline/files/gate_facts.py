"""What the gate sees beside a file's own cells: numbers as numbers, and whether cells of a row agree."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
import numpy.typing as npt
import pandas as pd
import pyarrow as pa
import pyarrow.compute as pc

from pipeline.files.csv_files import Column, column_of

NUMBERS = (
    "decimalLatitude", "decimalLongitude", "coordinateUncertaintyInMeters", "coordinatePrecision",
    "minimumElevationInMeters",
)  # fmt: skip
# Texts about a place that tell more than the rounded point does.
PLACE_WORDS = (
    "verbatimLocality", "verbatimLatitude", "verbatimLongitude", "verbatimCoordinates", "locality",
    "minimumElevationInMeters",
)  # fmt: skip
Facts = dict[str, pd.Series]
Columns = Mapping[str, Column]


def with_facts(table: Columns, core: pd.Series) -> dict[str, Column]:
    """The table with a column per fact, as far as the columns that it needs are there; yes or no.

    `core` holds the occurrenceIDs of occurrence.csv, each once.
    """
    facts: dict[str, Column] = {}
    for name in NUMBERS:
        if name in table:
            values, places = table[name]
            facts[f"{name} as number"] = Column(pd.to_numeric(values, errors="coerce").astype("float64"), places)
    for names, says in (
        (("eventDate", "year", "month", "day"), _event),
        (("eventDate", "modified"), _not_after),
        (("decimalLatitude", "decimalLongitude", "geodeticDatum"), _point),
        (("dataGeneralizations", *PLACE_WORDS), _rounded),
        (("measurementUnit", "measurementValue"), _measure),
        (("occurrenceID", "resourceID", "relatedResourceID"), _two_ends),
    ):
        if set(names) <= set(table):
            mixes, places = _mixes({name: table[name] for name in names})
            facts.update({fact: _yes_or_no(holds, places) for fact, holds in says(mixes).items()})
    if "occurrenceID" in table:
        values, places = table["occurrenceID"]
        facts["points at core"] = _yes_or_no(pc.is_in(pa.array(values), pa.array(core)).to_pandas(), places)
    return {**table, **facts}


def _mixes(columns: Columns) -> tuple[pd.DataFrame, npt.NDArray[np.int64]]:
    """The different mixes of these columns' values, and which of them stands on each row."""
    mix = np.zeros(len(next(iter(columns.values())).places), dtype="int64")
    for column in columns.values():
        mix = pd.factorize(mix * len(column.values) + column.places)[0]
    first = np.unique(mix, return_index=True)[1]
    table = {name: values.take(places[first]).reset_index(drop=True) for name, (values, places) in columns.items()}
    return pd.DataFrame(table), mix


def odd_cells(table: Columns) -> dict[str, Column]:
    """The different cells that start with neither letter nor digit, or hold a control character."""
    cells: list[str] = []
    stands_in: list[str] = []
    for name, (values, _) in table.items():
        odd = values[values.str.contains(r"^[^A-Za-z0-9]|[\x00-\x1f\x7f]", regex=True)]
        cells.extend(odd)
        stands_in += [name] * len(odd)
    return {"cell": column_of(cells), "column": column_of(stands_in)}


def _yes_or_no(holds: pd.Series, places: npt.NDArray[np.int64]) -> Column:
    """A fact as a column, in which "no" is a value only if it stands somewhere."""
    if holds.all():
        return Column(pd.Series(["yes"], dtype="str"), np.zeros_like(places))
    return Column(pd.Series(["no", "yes"], dtype="str"), holds.to_numpy(dtype="int64")[places])


def _event(table: pd.DataFrame) -> Facts:
    """Both ends of the event are days of the calendar, in order, and year, month and day say the same."""
    agrees = [_agrees(*said) for said in table.itertuples(index=False)]
    return {"event in the calendar": pd.Series(agrees, dtype="bool")}


def _agrees(event: str, year: str, month: str, day: str) -> bool:
    ends = event.split("/")
    try:
        days = [pd.Timestamp(end) for end in ends]
    except ValueError:
        return False
    parts = zip((year, month, day), [*ends[0].split("-"), "", ""], strict=False)
    return bool(days[0] <= days[-1]) and all(said in ("", part.lstrip("0"), part) for said, part in parts)


def _not_after(table: pd.DataFrame) -> Facts:
    first = table["eventDate"].str.replace("/.*", "", regex=True)
    return {"event not after modified": first <= table["modified"]}


def _point(table: pd.DataFrame) -> Facts:
    latitude, longitude = table["decimalLatitude"] != "", table["decimalLongitude"] != ""
    return {
        "both coordinates": latitude == longitude,
        "datum beside point": ~latitude | (table["geodeticDatum"] != ""),
    }


def _rounded(table: pd.DataFrame) -> Facts:
    words = (table[list(PLACE_WORDS)] != "").any(axis=1)
    return {"rounded without words": ~(table["dataGeneralizations"].str.contains("rounded") & words)}


def _measure(table: pd.DataFrame) -> Facts:
    number = pd.to_numeric(table["measurementValue"], errors="coerce")
    return {"number where measured": (table["measurementUnit"] == "") | (number > 0)}


def _two_ends(table: pd.DataFrame) -> Facts:
    own = table["resourceID"] == table["occurrenceID"]
    return {"two ends": own & (table["relatedResourceID"] != table["resourceID"])}
