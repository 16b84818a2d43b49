"""Places as the portal takes them: the point, how sure it is, and as many words as privacy allows."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import NamedTuple

import numpy as np
import numpy.typing as npt
import pandas as pd

from pipeline.settings import Settings
from pipeline.stages.export.cells import kept, matching, of_list, spread
from pipeline.values.rounding import decimals_of, to_square
from pipeline.values.uncertainty import half_diagonal, precision_text, radius, steps

DATUMS = {
    **dict.fromkeys(("wgs84", "epsg4326", "gps"), "EPSG:4326"),
    **dict.fromkeys(("nad83", "epsg4269"), "EPSG:4269"),
    **dict.fromkeys(("nad27", "epsg4267"), "EPSG:4267"),
}
NOT_RECORDED = "not recorded"  # the standard's words
PLAIN_NUMBER = r"-?\d+(?:\.\d+)?"


class _Points(NamedTuple):
    """The exact points with what is known about them; rounding comes after."""

    is_known: pd.Series
    is_rounded: pd.Series
    datum: pd.Series
    step: npt.NDArray[np.float64]
    system: npt.NDArray[np.object_]


def places(
    rows: pd.DataFrame, privacy: pd.DataFrame, countries: Mapping[str, str], settings: Settings
) -> dict[str, pd.Series]:
    """The columns of a place, with the rows' index."""
    points = _points(rows, privacy, settings)
    return {
        **_verbatim(rows, privacy, points),
        **_decimal(rows, points, settings),
        "georeferenceRemarks": _remarks(rows, points, settings),
        **_words(rows, privacy, countries),
    }


def _points(rows: pd.DataFrame, privacy: pd.DataFrame, settings: Settings) -> _Points:
    withheld = (kept(rows, "decimalLatitude") == "") | (kept(rows, "decimalLongitude") == "")
    is_known = rows["latitude"].notna() & rows["longitude"].notna() & ~withheld
    codes, named = pd.factorize(rows["geodeticDatum"])
    datum = spread([_datum(name or settings.region.datum) for name in named], codes, rows.index)
    decimals = (rows["latitude_decimals"].to_numpy(), rows["longitude_decimals"].to_numpy())
    written = (rows["decimalLatitude_written"].to_numpy(), rows["decimalLongitude_written"].to_numpy())
    return _Points(is_known, privacy["place_is_rounded"], datum, *steps(decimals, written))


def _datum(name: str) -> str:
    return DATUMS.get(re.sub(r"[^a-z0-9]", "", name.lower()), NOT_RECORDED)


def _decimal(rows: pd.DataFrame, points: _Points, settings: Settings) -> dict[str, pd.Series]:
    square = settings.privacy.home_square_degrees
    shown = points.is_known & ~points.is_rounded
    snapped = points.is_known & points.is_rounded
    uncertainty = _uncertainty(rows, points, settings)
    # A rounded place is no finer than its square, and a coarse one does not become finer by being rounded.
    step = np.where(points.is_rounded & (points.step > 0), np.maximum(points.step, square), points.step)
    codes, unique = pd.factorize(step)
    precision = spread(map(precision_text, unique), codes, rows.index)
    return {
        **{
            column: rows[column].where(
                shown, _rounded(rows[column.removeprefix("decimal").lower()], square).where(snapped, "")
            )
            for column in ("decimalLatitude", "decimalLongitude")
        },
        "geodeticDatum": points.datum.where(points.is_known, ""),
        "coordinateUncertaintyInMeters": uncertainty.where(points.is_known, ""),
        "coordinatePrecision": precision.where(points.is_known, ""),
    }


def _rounded(degrees: pd.Series, square: float) -> pd.Series:
    """Degrees as text, rounded to the nearest multiple of the square and written with its decimals."""
    codes, unique = pd.factorize(to_square(degrees.to_numpy(), square))
    texts = [f"{value:.{decimals_of(square)}f}" for value in unique] + [""]  # the code -1 is a missing point
    return spread(texts, np.where(codes < 0, len(unique), codes), degrees.index)


def _uncertainty(rows: pd.DataFrame, points: _Points, settings: Settings) -> pd.Series:
    """Metres as text; those of a rounded place are worked out from the rounded place, and widened."""
    square = settings.privacy.home_square_degrees
    latitude = rows["latitude"].to_numpy()
    rounded = points.is_rounded.to_numpy()
    latitude = np.where(rounded, to_square(latitude, square), latitude)
    unknown_datum = (points.datum == NOT_RECORDED).to_numpy() * settings.region.unknown_datum_metres
    added = (settings.region.receiver_accuracy_m + unknown_datum).astype("float64")
    metres = radius(points.step, latitude, rows["uncertainty_metres"].to_numpy(), added)
    metres = np.where(rounded, np.ceil(metres + half_diagonal(square, latitude)), metres)
    codes, unique = pd.factorize(metres)
    texts = [np.format_float_positional(value, trim="-") for value in unique] + [""]
    return spread(texts, np.where(codes < 0, len(unique), codes), rows.index)


def _remarks(rows: pd.DataFrame, points: _Points, settings: Settings) -> pd.Series:
    """How the radius came about; each mix of the conditions has a number and is put in words once."""
    conditions = (
        points.is_known, rows["uncertainty_metres"] > 0, points.step > 0, points.datum == NOT_RECORDED,
        points.is_rounded, rows["has_place_words"],
    )  # fmt: skip
    mixes = sum(np.asarray(holds, dtype="int64") << place for place, holds in enumerate(conditions))
    said = [
        _remark([bool(mix >> place & 1) for place in range(len(conditions))], settings)
        for mix in range(1 << len(conditions))
    ]
    return spread(said, np.asarray(mixes), rows.index)


def _remark(holds: list[bool], settings: Settings) -> str:
    is_known, is_stated, known_step, unknown_datum, is_rounded, has_words = holds
    region = settings.region
    if not is_known:
        return "place given by its names only, no point" if has_words and not is_rounded else ""
    source = "radius not known"
    if is_stated:
        source = "radius as stated by the observer"
    elif known_step:
        source = f"radius from the precision written and {region.receiver_accuracy_m:g} m for the receiver"
        if unknown_datum:
            source += f"; {region.unknown_datum_metres:g} m for the datum, which was not recorded"
    return source + "; widened by half the diagonal of the square" * is_rounded


def _verbatim(rows: pd.DataFrame, privacy: pd.DataFrame, points: _Points) -> dict[str, pd.Series]:
    """The place as written, where it may be shown; a pair in one cell is verbatimCoordinates."""
    stays = points.is_rounded | privacy["decimalLatitude_written_stays"] | privacy["decimalLongitude_written_stays"]
    shown = points.is_known & ~stays
    latitude, longitude = rows["decimalLatitude_written"], rows["decimalLongitude_written"]
    is_pair = (latitude == longitude) & rows["latitude_decimals"].isna()
    systems, system = pd.factorize(points.system)
    locality_stays = points.is_rounded | privacy["locality_stays"]
    return {
        "verbatimLocality": rows["locality_written"].mask(locality_stays, ""),
        "verbatimLatitude": latitude.where(shown & ~is_pair, ""),
        "verbatimLongitude": longitude.where(shown & ~is_pair, ""),
        "verbatimCoordinates": latitude.where(shown & is_pair, ""),
        "verbatimCoordinateSystem": spread(system, systems, rows.index).where(shown, ""),
    }


def _words(rows: pd.DataFrame, privacy: pd.DataFrame, countries: Mapping[str, str]) -> dict[str, pd.Series]:
    """The words of a place; where it is rounded, municipality is the finest."""
    code = kept(rows, "countryCode")
    code = of_list(code, list(countries))
    codes, named = pd.factorize(code)
    is_rounded = privacy["place_is_rounded"]
    elevation = matching(kept(rows, "minimumElevationInMeters"), PLAIN_NUMBER)
    return {
        "minimumElevationInMeters": elevation.mask(is_rounded, ""),
        "locality": kept(rows, "locality").mask(is_rounded | privacy["locality_stays"], ""),
        **{
            column: kept(rows, column).mask(privacy[f"{column}_stays"], "")
            for column in ("municipality", "county", "stateProvince")
        },
        "country": spread([countries.get(each, "") for each in named], codes, rows.index),
        "countryCode": code,
    }
