"""What the gate sees beside a file's own cells: numbers as numbers, and whether cells of a row agree."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pyarrow as pa
import pyarrow.compute as pc

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


def with_facts(table: pd.DataFrame, core: pd.Series) -> pd.DataFrame:
    """The table with a column per fact, as far as the columns that it needs are there; yes or no.

    `core` holds the occurrenceIDs of occurrence.csv.
    """
    facts: Facts = {}
    for column in NUMBERS:
        if column in table:
            facts[f"{column} as number"] = pd.to_numeric(table[column], errors="coerce").astype("float64")
    for names, says in (
        (("eventDate", "year", "month", "day"), _event),
        (("eventDate", "modified"), _not_after),
        (("decimalLatitude", "decimalLongitude", "geodeticDatum"), _point),
        (("dataGeneralizations", *PLACE_WORDS), _rounded),
        (("measurementUnit", "measurementValue"), _measure),
        (("occurrenceID", "resourceID", "relatedResourceID"), _two_ends),
    ):
        if set(names) <= set(table.columns):
            facts.update(says(table))
    if "occurrenceID" in table:
        points = pc.is_in(pa.array(table["occurrenceID"]), pa.array(core))
        facts["points at core"] = _yes(pd.Series(points.to_numpy(zero_copy_only=False), index=table.index))
    return table.assign(**facts)


def odd_cells(rows: pd.DataFrame) -> pd.DataFrame:
    """The different cells that start with neither letter nor digit, or hold a control character."""
    found = [pd.DataFrame({"cell": [], "column": []}, dtype="str")]
    for column in rows.columns:
        cells = rows[column]
        odd = cells[cells.str.contains(r"^[^A-Za-z0-9]|[\x00-\x1f\x7f]", regex=True)].unique()
        found.append(pd.DataFrame({"cell": odd, "column": column}, dtype="str"))
    return pd.concat(found, ignore_index=True)


def _yes(holds: pd.Series) -> pd.Series:
    return pd.Series(np.where(holds, "yes", "no"), index=holds.index, dtype="str")


def _event(table: pd.DataFrame) -> Facts:
    """Both ends of the event are days of the calendar, in order, and year, month and day say the same."""
    said = table["eventDate"] + "|" + table["year"] + "|" + table["month"] + "|" + table["day"]
    codes, unique = pd.factorize(said)
    agrees = pd.Series([_agrees(*text.split("|")[:4]) for text in unique], dtype="bool")
    return {"event in the calendar": _yes(agrees.take(codes).set_axis(table.index))}


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
    return {"event not after modified": _yes(first <= table["modified"])}


def _point(table: pd.DataFrame) -> Facts:
    latitude, longitude = table["decimalLatitude"] != "", table["decimalLongitude"] != ""
    return {
        "both coordinates": _yes(latitude == longitude),
        "datum beside point": _yes(~latitude | (table["geodeticDatum"] != "")),
    }


def _rounded(table: pd.DataFrame) -> Facts:
    words = (table[list(PLACE_WORDS)] != "").any(axis=1)
    return {"rounded without words": _yes(~(table["dataGeneralizations"].str.contains("rounded") & words))}


def _measure(table: pd.DataFrame) -> Facts:
    number = pd.to_numeric(table["measurementValue"], errors="coerce")
    return {"number where measured": _yes((table["measurementUnit"] == "") | (number > 0))}


def _two_ends(table: pd.DataFrame) -> Facts:
    own = table["resourceID"] == table["occurrenceID"]
    return {"two ends": _yes(own & (table["relatedResourceID"] != table["resourceID"]))}
