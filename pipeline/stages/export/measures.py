"""What was measured of a butterfly, and where it came from, as the extension measurementOrFact."""

from __future__ import annotations

from typing import NamedTuple

import pandas as pd

from pipeline.settings import Settings
from pipeline.stages.export.cells import kept, matching, of_list

COLUMNS = (
    "occurrenceID",
    "measurementID",
    "measurementType",
    "measurementValue",
    "measurementUnit",
    "measurementMethod",
)
ABOVE_ZERO = r"(?=.*[1-9])\d+(?:\.\d+)?"


class _Measure(NamedTuple):
    """A measure: its field, what it is called, its unit, how it was taken, and which values are one."""

    field: str
    type: str
    unit: str
    method: str
    pattern: str


_MEASURES = (
    _Measure("forewingLength", "forewing length", "mm", "from the wing's base to its tip", ABOVE_ZERO),
    _Measure("wingSpan", "wing span", "mm", "from tip to tip, wings spread", ABOVE_ZERO),
    _Measure("bodyMass", "body mass", "g", "weighed alive", ABOVE_ZERO),
    _Measure("wingWear", "wing wear", "", "scale from 1 (fresh) to 5 (worn), by eye", r"[1-5](?:\.\d+)?"),
)


def measures(rows: pd.DataFrame, settings: Settings) -> pd.DataFrame:
    """A line for every origin and measure of the records, in the records' order."""
    wing = of_list(kept(rows, "wingMeasured"), ("left", "right"))
    tables = [_origin(rows, settings)]
    for measure in _MEASURES:
        lines = _lines(rows, measure, matching(kept(rows, measure.field), measure.pattern))
        if measure.field == "forewingLength":
            named = wing[lines.index]
            lines["measurementMethod"] += (", " + named + " wing").where(named != "", "")
        tables.append(lines)
    return pd.concat(tables).sort_index(kind="stable")[list(COLUMNS)]


def _origin(rows: pd.DataFrame, settings: Settings) -> pd.DataFrame:
    """Wild or reared, as told; the vocabulary's word for released animals means something else."""
    method = "as told by the observer; reared: from an egg or caterpillar found in the wild"
    origin = _Measure("origin", "origin", "", method, "")
    return _lines(rows, origin, of_list(kept(rows, "origin"), settings.portal.origins))


def _lines(rows: pd.DataFrame, measure: _Measure, values: pd.Series) -> pd.DataFrame:
    values = values[values != ""]
    identifier = rows.loc[values.index, "occurrence_id"]
    return pd.DataFrame(
        {
            "occurrenceID": identifier,
            "measurementID": identifier + "#" + measure.field,
            "measurementType": measure.type,
            "measurementValue": values,
            "measurementUnit": measure.unit,
            "measurementMethod": measure.method,
        }
    )
