"""Places that the programme hides, such as winter sites in winter: to which square their points are rounded."""

from __future__ import annotations

import re

import numpy as np
import pandas as pd

COLUMNS = ("scientificName", "area", "first_day", "last_day", "square_degrees")
_DAY = re.compile(r"(?:0[1-9]|1[0-2])-(?:0[1-9]|[12]\d|3[01])")
_AREA = re.compile(r"[A-Z]{2}(?:-[A-Z0-9]{1,3})?")
LARGEST = 5.0  # degrees


def slip_in(line: dict[str, str]) -> str:
    """What is wrong with a line of sensitive_places.csv, "" where nothing is.

    >>> usual = {"area": "MX-MIC", "first_day": "11-01", "last_day": "03-31", "square_degrees": "0.1"}
    >>> slip_in(usual), slip_in(usual | {"area": "Michoacán"})
    ('', "the area 'Michoacán' is no code of a country or state, like MX or MX-MIC")
    """
    if not _AREA.fullmatch(line["area"]):
        return f"the area {line['area']!r} is no code of a country or state, like MX or MX-MIC"
    for name in ("first_day", "last_day"):
        if line[name] and not _DAY.fullmatch(line[name]):
            return f"{name} is {line[name]!r}: write month and day, like 11-01, or leave it blank"
    if bool(line["first_day"]) != bool(line["last_day"]):
        return "it has one of first_day and last_day: fill both, or leave both blank for the whole year"
    try:
        is_square = 0 < float(line["square_degrees"]) <= LARGEST
    except ValueError:
        is_square = False
    return "" if is_square else f"square_degrees is {line['square_degrees']!r}: write degrees above 0, like 0.1"


def squares_of_sensitive(rows: pd.DataFrame, sensitive: pd.DataFrame) -> pd.Series:
    """The square in degrees to which each row's place must be rounded, 0 where it lies at no sensitive place.

    `rows` has place_state, countryCode, scientificName, first_day and last_day; a day or a name that is not known is
    taken to be of the kind that is hidden.
    """
    square = np.zeros(len(rows))
    country = rows["place_state"].str[:2].where(rows["place_state"] != "", rows["countryCode"])
    for line in sensitive.to_dict("records"):
        area, species = str(line["area"]), str(line["scientificName"])
        is_there = (rows["place_state"] == area) if "-" in area else (country == area)
        is_kind = rows["scientificName"].isin(["", species, species.partition(" ")[0]]) | (species == "")
        is_hidden = is_there & is_kind & _is_in_season(rows, str(line["first_day"]), str(line["last_day"]))
        square = np.where(is_hidden, np.maximum(square, float(line["square_degrees"])), square)
    return pd.Series(square, index=rows.index)


def _is_in_season(rows: pd.DataFrame, first: str, last: str) -> pd.Series:
    """Any day of the row's lies between two days of the year, which may span New Year."""
    if not first:
        return pd.Series(True, index=rows.index)
    start, end = (rows[name].dt.strftime("%m-%d") for name in ("first_day", "last_day"))
    if first <= last:
        is_in = (start <= last) & (end >= first)
    else:
        is_in = (start >= first) | (start <= last) | (end >= first) | (end <= last)
    is_long = (rows["last_day"] - rows["first_day"]).dt.days > 27  # a month or more: we do not look closer
    is_hidden: pd.Series = is_in | is_long | rows["first_day"].isna()
    return is_hidden
