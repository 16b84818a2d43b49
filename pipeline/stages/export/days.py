"""Days as the portal takes them: never more precise than written."""

from __future__ import annotations

import pandas as pd

DAY = r"\d{4}(?:-\d{2}(?:-\d{2})?)?"


def days(values: pd.Series) -> dict[str, pd.Series]:
    """eventDate, year, month and day; the last three only where the whole event lies in that one."""
    dates = values.where(values.str.fullmatch(f"{DAY}(?:/{DAY})?"), "")
    ends = dates.str.split("/", n=1)
    first, last = ends.str[0], ends.str[-1]

    def common(length: int, start: int) -> pd.Series:
        is_common = (first.str.len() >= length) & (first.str[:length] == last.str[:length])
        number = first.str[start:length].where(is_common, "")
        return number.str.lstrip("0") if start else number

    return {"eventDate": dates, "year": common(4, 0), "month": common(7, 5), "day": common(10, 8)}
