"""Places as the portal takes them: the point, how sure it is, and as many words as privacy allows."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

import numpy as np
import numpy.typing as npt
import pandas as pd

from pipeline.settings import Settings
from pipeline.stages.export.cells import kept, matching, of_list, spread
from pipeline.stages.export.georeference import remarks, sources
from pipeline.values.datum import WGS84
from pipeline.values.rounding import decimals_of, to_square
from pipeline.values.uncertainty import Fineness, from_written, half_diagonal, precision_text, radius, steps

NOT_RECORDED = "not recorded"  # the standard's words
PLAIN_NUMBER = r"-?\d+(?:\.\d+)?"
WORKED_OUT, MIDDLE = 7, 4  # decimals of degrees that another datum gave, and of the middle of a town
AXES = ("latitude", "longitude")


class _Points(NamedTuple):
    """The exact points with what is known about them; rounding comes after. A town's middle stands for a point."""

    is_known: pd.Series
    is_town: pd.Series
    is_rounded: pd.Series
    square: npt.NDArray[np.float64]  # degrees to which a place is rounded, 0 where it is not
    datum: pd.Series
    written: Fineness  # a town has no step


def places(
    rows: pd.DataFrame, privacy: pd.DataFrame, countries: Mapping[str, str], settings: Settings
) -> dict[str, pd.Series]:
    """The columns of a place, with the rows' index."""
    points = _points(rows, privacy)
    return {
        **_verbatim(rows, privacy, points),
        **_decimal(rows, points, settings),
        "georeferenceRemarks": remarks(rows, points.is_known, points.written.step > 0, points.is_rounded, settings),
        "georeferenceSources": sources(rows, points.is_town & ~points.is_rounded),
        **_words(rows, privacy, countries),
    }


def _points(rows: pd.DataFrame, privacy: pd.DataFrame) -> _Points:
    has_point = rows["latitude"].notna() & rows["longitude"].notna()
    withheld = (kept(rows, "decimalLatitude") == "") | (kept(rows, "decimalLongitude") == "")
    names_stay = (kept(rows, "municipality") == "") & (kept(rows, "locality") == "")
    is_town = ~has_point & (rows["town_source"] != "") & ~names_stay
    code = rows["datum_code"]
    stays = (code != "") & (rows["datum_operation"] == "") & (code != WGS84)  # known, but with no way to WGS 84
    datum = ("EPSG:" + code.where(stays, WGS84)).where((code != "") | is_town, NOT_RECORDED)
    decimals = (rows["latitude_decimals"].to_numpy(), rows["longitude_decimals"].to_numpy())
    written = (rows["decimalLatitude_written"].to_numpy(), rows["decimalLongitude_written"].to_numpy())
    finely = steps(decimals, written)
    finely = finely._replace(step=np.where(is_town, 0.0, finely.step))
    is_known = (has_point & ~withheld) | is_town
    square = privacy["square_degrees"].to_numpy()
    return _Points(is_known, is_town, privacy["place_is_rounded"], square, datum, finely)


def _decimal(rows: pd.DataFrame, points: _Points, settings: Settings) -> dict[str, pd.Series]:
    snapped = points.is_known & points.is_rounded
    uncertainty = _uncertainty(rows, points, settings)
    # A rounded place is no finer than its square, and a coarse one does not become finer by being rounded.
    finest = points.written.step
    step = np.where(points.is_rounded & (finest > 0), np.maximum(finest, points.square), finest)
    codes, unique = pd.factorize(step)
    precision = spread(map(precision_text, unique), codes, rows.index)
    exact = {axis: _exact(rows, axis, points).where(points.is_known, "") for axis in AXES}
    return {
        **{
            f"decimal{axis.title()}": exact[axis].mask(snapped, _in_squares(rows[f"place_{axis}"], points.square))
            for axis in AXES
        },
        "geodeticDatum": points.datum.where(points.is_known, ""),
        "coordinateUncertaintyInMeters": uncertainty.where(points.is_known, ""),
        "coordinatePrecision": precision.where(points.is_known, ""),
    }


def _exact(rows: pd.DataFrame, axis: str, points: _Points) -> pd.Series:
    """Degrees as typed; worked out where another datum or a town gave them."""
    texts = rows[f"decimal{axis.title()}"]
    is_moved = (rows["datum_operation"] != "") & (rows[f"place_{axis}"].round(WORKED_OUT) != _as_number(texts))
    for which, decimals in ((is_moved, WORKED_OUT), (points.is_town, MIDDLE)):
        if which.any():
            texts = texts.mask(which, _in_decimals(rows[f"place_{axis}"], decimals))
    return texts


def _as_number(texts: pd.Series) -> pd.Series:
    return pd.to_numeric(texts, errors="coerce").astype("float64")


def _in_decimals(degrees: pd.Series, decimals: int) -> pd.Series:
    codes, unique = pd.factorize(degrees)
    texts = [f"{value:.{decimals}f}" for value in unique] + [""]  # the code -1 is a missing point
    return spread(texts, np.where(codes < 0, len(unique), codes), degrees.index)


def _in_squares(degrees: pd.Series, squares: npt.NDArray[np.float64]) -> pd.Series:
    """Degrees as text, rounded to the nearest multiple of the row's square and written with its decimals."""
    texts = pd.Series("", index=degrees.index, dtype="str")
    for square in np.unique(squares[squares > 0]).tolist():
        rounded = pd.Series(to_square(degrees.to_numpy(), square), index=degrees.index)
        texts = texts.where(squares != square, _in_decimals(rounded, decimals_of(square)))
    return texts


def _uncertainty(rows: pd.DataFrame, points: _Points, settings: Settings) -> pd.Series:
    """Metres as text; those of a rounded place are worked out from the rounded place, and widened."""
    latitude = rows["place_latitude"].to_numpy(copy=True)
    for square in np.unique(points.square[points.square > 0]).tolist():
        latitude = np.where(points.square == square, to_square(latitude, square), latitude)
    stated, datum = rows["uncertainty_metres"].to_numpy(), rows["datum_metres"].to_numpy()
    metres = radius(from_written(points.written, latitude), stated, settings.region.receiver_accuracy_m, datum)
    metres = np.where(points.is_town, np.ceil(rows["town_metres"].to_numpy()), metres)
    metres = np.where(points.square > 0, np.ceil(metres + half_diagonal(points.square, latitude)), metres)
    codes, unique = pd.factorize(metres)
    texts = [np.format_float_positional(value, trim="-") for value in unique] + [""]
    return spread(texts, np.where(codes < 0, len(unique), codes), rows.index)


def _verbatim(rows: pd.DataFrame, privacy: pd.DataFrame, points: _Points) -> dict[str, pd.Series]:
    """The place as written, where it may be shown; a pair in one cell is verbatimCoordinates."""
    stays = points.is_rounded | privacy["decimalLatitude_written_stays"] | privacy["decimalLongitude_written_stays"]
    shown = points.is_known & ~points.is_town & ~stays
    latitude, longitude = rows["decimalLatitude_written"], rows["decimalLongitude_written"]
    is_pair = (latitude == longitude) & rows["latitude_decimals"].isna()
    systems, system = pd.factorize(points.written.system)
    locality_stays = points.is_rounded | privacy["locality_stays"]
    return {
        "verbatimLocality": rows["locality_written"].mask(locality_stays, ""),
        "verbatimLatitude": latitude.where(shown & ~is_pair, ""),
        "verbatimLongitude": longitude.where(shown & ~is_pair, ""),
        "verbatimCoordinates": latitude.where(shown & is_pair, ""),
        "verbatimCoordinateSystem": spread(system, systems, rows.index).where(shown, ""),
        "verbatimSRS": rows["geodeticDatum"].where(shown & (rows["datum_code"] != ""), ""),
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
