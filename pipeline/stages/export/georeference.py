"""How a point and its radius came about, in words that tell nothing of the place itself."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt
import pandas as pd

from pipeline.settings import Settings
from pipeline.stages.export.cells import spread

MARK = "\x1f"


def remarks(
    rows: pd.DataFrame, is_known: pd.Series, has_step: npt.NDArray[np.bool_], is_rounded: pd.Series, settings: Settings
) -> pd.Series:
    """georeferenceRemarks of each row; each mix of what is said is put in words once."""
    is_town = is_known & (rows["town_source"] != "")
    is_stated = rows["uncertainty_metres"] > 0
    source = np.select(
        [~is_known & rows["has_place_words"] & ~is_rounded, ~is_known, is_town, is_stated, has_step],
        ["names", "", "town", "stated", "step"],
        "unknown",
    )
    datum = np.select(
        [~is_known | is_town, rows["datum_operation"] != "", rows["datum_code"] == "", rows["datum_metres"] > 0],
        ["", "moved", "unknown", "kept"],
        "",
    )
    metres = np.where(datum == "moved", np.ceil(rows["datum_metres"].fillna(0)).astype("int64").astype("str"), "")
    operation = rows["datum_operation"].where(datum == "moved", "")
    rounded = np.where(is_rounded, "yes", "")
    parts = [pd.Series(part, index=rows.index, dtype="str") for part in (source, datum, metres, operation, rounded)]
    codes, unique = pd.factorize(parts[0] + MARK + parts[1] + MARK + parts[2] + MARK + parts[3] + MARK + parts[4])
    return spread([_remark(mix.split(MARK), settings) for mix in unique], codes, rows.index)


def _remark(told: list[str], settings: Settings) -> str:
    source, datum, metres, operation, rounded = told
    region = settings.region
    said = {
        "": "",
        "names": "place given by its names only, no point",
        "town": "middle of the town named; radius from its size and the way to the next town",
        "stated": "radius as stated by the observer",
        "step": f"radius from the precision written and {region.receiver_accuracy_m:g} m for the receiver",
        "unknown": "radius not known",
    }[source]
    widened = {
        "": "",
        "moved": f"; brought to WGS 84 by {operation}, {metres} m for that",
        "unknown": f"; {region.unknown_datum_metres:g} m for the datum, which was not recorded",
        "kept": f"; {region.unknown_datum_metres:g} m for the datum, from which we know no way to WGS 84",
    }[datum]
    is_point = source not in ("", "names")
    return said + widened * is_point + "; widened by half the diagonal of the square" * bool(rounded and is_point)


def sources(rows: pd.DataFrame, is_shown: pd.Series) -> pd.Series:
    """georeferenceSources: the list from which the middle of a town was taken."""
    return rows["town_source"].where(is_shown, "")
