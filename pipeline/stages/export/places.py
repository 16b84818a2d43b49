"""Places as the portal takes them: the point, how sure it is, and as many words as privacy allows."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

import numpy as np
import numpy.typing as npt
import pandas as pd

from pipeline.settings import Settings
from pipeline.stages.export.cells import kept, matching
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
    named = rows["geodeticDatum"].where(rows["geodeticDatum"] != "", settings.region.datum)
    tidied = named.str.lower().str.replace(r"[^a-z0-9]", "", regex=True)
    datum = tidied.map(DATUMS).fillna(NOT_RECORDED).astype("str")
    decimals = (rows["latitude_decimals"].to_numpy(), rows["longitude_decimals"].to_numpy())
    written = (rows["decimalLatitude_written"].tolist(), rows["decimalLongitude_written"].tolist())
    return _Points(is_known, privacy["place_is_rounded"], datum, *steps(decimals, written))


def _decimal(rows: pd.DataFrame, points: _Points, settings: Settings) -> dict[str, pd.Series]:
    square = settings.privacy.home_square_degrees
    shown = points.is_known & ~points.is_rounded
    snapped = points.is_known & points.is_rounded
    uncertainty = _uncertainty(rows, points, settings)
    # A rounded place is no finer than its square, and a coarse one does not become finer by being rounded.
    step = np.where(points.is_rounded & (points.step > 0), np.maximum(points.step, square), points.step)
    precision = pd.Series(step, index=rows.index).map({each: precision_text(each) for each in np.unique(step)})
    return {
        **{
            column: rows[column].where(
                shown, _rounded(rows[column.removeprefix("decimal").lower()], square).where(snapped, "")
            )
            for column in ("decimalLatitude", "decimalLongitude")
        },
        "geodeticDatum": points.datum.where(points.is_known, ""),
        "coordinateUncertaintyInMeters": uncertainty.where(points.is_known, ""),
        "coordinatePrecision": precision.where(points.is_known, "").astype("str"),
    }


def _rounded(degrees: pd.Series, square: float) -> pd.Series:
    """Degrees as text, rounded to the nearest multiple of the square and written with its decimals."""
    codes, unique = pd.factorize(to_square(degrees.to_numpy(), square))
    texts = [f"{value:.{decimals_of(square)}f}" for value in unique] + [""]  # the code -1 is a missing point
    return pd.Series(texts, dtype="str").take(np.where(codes < 0, len(unique), codes)).set_axis(degrees.index)


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
    return pd.Series(texts, dtype="str").take(np.where(codes < 0, len(unique), codes)).set_axis(rows.index)


def _remarks(rows: pd.DataFrame, points: _Points, settings: Settings) -> pd.Series:
    region = settings.region
    is_stated = rows["uncertainty_metres"] > 0
    known_step = pd.Series(points.step > 0, index=rows.index)
    source = pd.Series("radius as stated by the observer", index=rows.index, dtype="str").where(
        is_stated, f"radius from the precision written and {region.receiver_accuracy_m:g} m for the receiver"
    )
    source = source.where(is_stated | known_step, "radius not known")
    unknown_datum = f"; {region.unknown_datum_metres:g} m for the datum, which was not recorded"
    source = source.mask((points.datum == NOT_RECORDED) & ~is_stated & known_step, source + unknown_datum)
    source = source.mask(points.is_rounded, source + "; widened by half the diagonal of the square")
    has_words = rows["has_place_words"] & ~points.is_rounded
    names_only = pd.Series("", index=rows.index, dtype="str").mask(has_words, "place given by its names only, no point")
    return source.where(points.is_known, names_only)


def _verbatim(rows: pd.DataFrame, privacy: pd.DataFrame, points: _Points) -> dict[str, pd.Series]:
    """The place as written, where it may be shown; a pair in one cell is verbatimCoordinates."""
    stays = points.is_rounded | privacy["decimalLatitude_written_stays"] | privacy["decimalLongitude_written_stays"]
    shown = points.is_known & ~stays
    latitude, longitude = rows["decimalLatitude_written"], rows["decimalLongitude_written"]
    is_pair = (latitude == longitude) & rows["latitude_decimals"].isna()
    locality_stays = points.is_rounded | privacy["locality_stays"]
    return {
        "verbatimLocality": rows["locality_written"].mask(locality_stays, ""),
        "verbatimLatitude": latitude.where(shown & ~is_pair, ""),
        "verbatimLongitude": longitude.where(shown & ~is_pair, ""),
        "verbatimCoordinates": latitude.where(shown & is_pair, ""),
        "verbatimCoordinateSystem": pd.Series(points.system, index=rows.index).where(shown, "").astype("str"),
    }


def _words(rows: pd.DataFrame, privacy: pd.DataFrame, countries: Mapping[str, str]) -> dict[str, pd.Series]:
    """The words of a place; where it is rounded, municipality is the finest."""
    code = kept(rows, "countryCode")
    code = code.where(code.isin(list(countries)), "")
    is_rounded = privacy["place_is_rounded"]
    elevation = matching(kept(rows, "minimumElevationInMeters"), PLAIN_NUMBER)
    return {
        "minimumElevationInMeters": elevation.mask(is_rounded, ""),
        "locality": kept(rows, "locality").mask(is_rounded | privacy["locality_stays"], ""),
        **{
            column: kept(rows, column).mask(privacy[f"{column}_stays"], "")
            for column in ("municipality", "county", "stateProvince")
        },
        "country": code.map(dict(countries)).fillna("").astype("str"),
        "countryCode": code,
    }
