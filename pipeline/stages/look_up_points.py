"""Adds the rows' points as numbers on WGS 84, and how far the places may lie from them."""

from __future__ import annotations

import re
from collections.abc import Mapping

import numpy as np
import numpy.typing as npt
import pandas as pd

from pipeline.settings import Settings
from pipeline.values.datum import NO_DATUM, WGS84, datum_code, on_its_own_grid, to_wgs84
from pipeline.values.grid import read_point
from pipeline.values.position import decimals
from pipeline.values.uncertainty import from_written, radius, steps

Facts = dict[str, pd.Series]
MARK = "\x1f"
NUMBER = re.compile(r"[-+]?\d+(?:\.\d+)?")


def look_up_points(rows: pd.DataFrame, datums: Mapping[str, str], settings: Settings) -> Facts:
    """The facts about points: degrees on WGS 84, decimals as written, the datum, and metres round the point."""
    facts = {
        "latitude": _degrees(rows, "decimalLatitude"),
        "longitude": _degrees(rows, "decimalLongitude"),
        "latitude_decimals": _decimals(rows["decimalLatitude"], rows["decimalLatitude_written"]),
        "longitude_decimals": _decimals(rows["decimalLongitude"], rows["decimalLongitude_written"]),
        **_datums(rows, datums, settings),
    }
    facts |= _on_wgs84(rows, facts, settings)
    return {**facts, "point_metres": _metres_round(rows, facts, settings)}


def _degrees(rows: pd.DataFrame, field: str) -> pd.Series:
    """The number, also beyond the globe; missing where the cell could not be read."""
    texts = rows[field].where(rows[f"{field}_doubt"].isin(["", "off-the-globe"]), "")
    return _number(texts)


def _number(texts: pd.Series) -> pd.Series:
    return pd.to_numeric(texts.where(texts.str.fullmatch(NUMBER)), errors="coerce").astype("float64")


def _decimals(values: pd.Series, written: pd.Series) -> pd.Series:
    """How many decimals a degree was written with; missing where it was worked out from minutes or a grid."""
    codes, unique = pd.factorize(values + MARK + written.str.replace(",", "."))
    apart = (text.partition(MARK) for text in unique)
    counts = [decimals(value) if value.lstrip("-") in typed else None for value, _, typed in apart]
    return pd.Series(counts, dtype="float64").take(codes).set_axis(values.index)


def _datums(rows: pd.DataFrame, known: Mapping[str, str], settings: Settings) -> Facts:
    """The EPSG code of what the degrees refer to; the settings speak where the sheet does not."""
    usual = datum_code(settings.region.datum, known)
    codes, named = pd.factorize(rows["geodeticDatum"])
    read = [datum_code(name, known) if name else NO_DATUM for name in named]
    told = pd.Series([usual if code == NO_DATUM else code for code in read], dtype="str").take(codes)
    code = told.set_axis(rows.index)
    return {"datum_code": code.where(code != NO_DATUM, ""), "datum_is_named": rows["geodeticDatum"] != ""}


def _on_wgs84(rows: pd.DataFrame, facts: Facts, settings: Settings) -> Facts:
    """The degrees moved from another datum to WGS 84, by which operation, and how many metres that may be off."""
    latitude, longitude = (facts[axis].to_numpy(copy=True) for axis in ("latitude", "longitude"))
    code = facts["datum_code"].to_numpy()
    metres = np.where(code == WGS84, 0.0, float(settings.region.unknown_datum_metres))
    operation = np.full(len(rows), "", dtype=object)
    for datum in {*code} - {WGS84, ""}:
        here = np.flatnonzero((code == datum) & ~np.isnan(latitude) & ~np.isnan(longitude))
        is_plain = facts["latitude_decimals"].notna().to_numpy()[here]
        point = _on_own_grid(
            rows["decimalLatitude_written"].iloc[here].mask(is_plain, ""), (latitude[here], longitude[here]), datum
        )
        moved = to_wgs84(*point, datum)
        is_known = moved.operation != ""
        places = here[is_known]
        latitude[places], longitude[places] = moved.latitude[is_known], moved.longitude[is_known]
        metres[places], operation[places] = moved.metres[is_known], moved.operation[is_known]
    return {
        "latitude": pd.Series(latitude, index=rows.index),
        "longitude": pd.Series(longitude, index=rows.index),
        "datum_metres": pd.Series(metres, index=rows.index),
        "datum_operation": pd.Series(operation, index=rows.index, dtype="str"),
    }


def _on_own_grid(
    written: pd.Series, point: tuple[npt.NDArray[np.float64], npt.NDArray[np.float64]], datum: str
) -> tuple[npt.NDArray[np.float64], npt.NDArray[np.float64]]:
    """The degrees of metres on a grid were worked out on WGS 84: here they are those of the datum's own ellipsoid."""
    latitude, longitude = point
    codes, unique = pd.factorize(written)
    for code, text in enumerate(unique.tolist()):
        found = read_point(text)
        if found and found.zone:
            as_read = float(found.latitude), float(found.longitude)
            latitude[codes == code], longitude[codes == code] = on_its_own_grid(as_read, found.zone, datum)
    return latitude, longitude


def _metres_round(rows: pd.DataFrame, facts: Facts, settings: Settings) -> pd.Series:
    """How far the place may lie from its point: as stated, else by the decimals and the receiver; with the datum's."""
    counts = (facts["latitude_decimals"].to_numpy(), facts["longitude_decimals"].to_numpy())
    written = (rows["decimalLatitude_written"].to_numpy(), rows["decimalLongitude_written"].to_numpy())
    from_writing = from_written(steps(counts, written), facts["latitude"].to_numpy())
    stated = _number(rows["coordinateUncertaintyInMeters"]).to_numpy()
    datum = facts["datum_metres"].to_numpy()
    metres = radius(from_writing, stated, settings.region.receiver_accuracy_m, datum)
    return pd.Series(metres, index=rows.index).where(facts["latitude"].notna() & facts["longitude"].notna())
