"""Days as the portal takes them: never more precise than written."""

from __future__ import annotations

import re

import pandas as pd

from pipeline.stages.export.cells import spread

DAY = r"\d{4}(?:-\d{2}(?:-\d{2})?)?"


def days(values: pd.Series) -> dict[str, pd.Series]:
    """eventDate, year, month and day; the last three only where the whole event lies in that one."""
    codes, unique = pd.factorize(values)
    names = ("eventDate", "year", "month", "day")
    parts = [_parts(day) for day in unique]
    return {name: spread([part[at] for part in parts], codes, values.index) for at, name in enumerate(names)}


def _parts(day: str) -> tuple[str, str, str, str]:
    if not re.fullmatch(f"{DAY}(?:/{DAY})?", day):
        return ("", "", "", "")
    first, last = day.split("/")[0], day.split("/")[-1]

    def common(start: int, end: int) -> str:
        return first[start:end].lstrip("0") if len(first) >= end and first[:end] == last[:end] else ""

    return (day, common(0, 4), common(5, 7), common(8, 10))
