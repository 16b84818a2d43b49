"""What was measured of a butterfly, and where it came from, as the extension measurementOrFact."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
import numpy.typing as npt
import pandas as pd

from pipeline.settings import Settings
from pipeline.stages.export.cells import is_blank, kept, matching, of_list

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


# Wild or reared, as told; the vocabulary's word for released animals means something else.
_ORIGIN = _Measure(
    "origin",
    "origin",
    "",
    "as told by the observer; reared: from an egg or caterpillar found in the wild",
    "",
)
_MEASURES = (
    _Measure("forewingLength", "forewing length", "mm", "from the wing's base to its tip", ABOVE_ZERO),
    _Measure("wingSpan", "wing span", "mm", "from tip to tip, wings spread", ABOVE_ZERO),
    _Measure("bodyMass", "body mass", "g", "weighed alive", ABOVE_ZERO),
    _Measure("wingWear", "wing wear", "", "scale from 1 (fresh) to 5 (worn), by eye", r"[1-5](?:\.\d+)?"),
)


def measures(rows: pd.DataFrame, settings: Settings) -> pd.DataFrame:
    """A line for every origin and measure of the records, in the records' order."""
    measured = [(_ORIGIN, of_list(kept(rows, "origin"), settings.portal.origins))]
    measured += [(each, matching(kept(rows, each.field), each.pattern)) for each in _MEASURES]
    places = [np.flatnonzero(values.to_numpy() != "") for _, values in measured]
    place = np.concatenate(places)
    order = np.argsort(place, kind="stable")  # measures of one record stay in their order
    kind, place = np.repeat(np.arange(len(places)), [len(each) for each in places])[order], place[order]
    values = pd.concat([values.iloc[at] for (_, values), at in zip(measured, places, strict=True)])
    identifier = rows["occurrence_id"].iloc[place].reset_index(drop=True)
    of_kind = pd.DataFrame([measure for measure, _ in measured], dtype="str").take(kind).reset_index(drop=True)
    table = pd.DataFrame(
        {
            "occurrenceID": identifier,
            "measurementID": identifier + "#" + of_kind["field"],
            "measurementType": of_kind["type"],
            "measurementValue": values.iloc[order].reset_index(drop=True),
            "measurementUnit": of_kind["unit"],
            "measurementMethod": of_kind["method"] + _which_wing(rows, of_kind["field"], place),
        }
    )
    return table[list(COLUMNS)]


def _which_wing(rows: pd.DataFrame, field: pd.Series, place: npt.NDArray[np.int64]) -> pd.Series | str:
    """Of a forewing, left or right where it was told; `place` is the row of each line."""
    wing = of_list(kept(rows, "wingMeasured"), ("left", "right"))
    if is_blank(wing):
        return ""
    told = wing.iloc[place].reset_index(drop=True)
    return (", " + told + " wing").where((field == "forewingLength") & (told != ""), "")
