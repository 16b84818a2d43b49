"""Values that stand in several columns, put together as one text before they are read."""

from __future__ import annotations

import re

_NUMBER = re.compile(r"\d+")


def day_of_parts(day: str, month: str, year: str) -> str:
    """One day from the cells of a day, a month and a year column, in an order that cannot be mistaken.

    >>> day_of_parts("3", "9", "2026"), day_of_parts("3", "Sept", "2026"), day_of_parts("", "9", "2026")
    ('2026-09-03', '3 Sept 2026', '2026-09')
    >>> day_of_parts("3", "9", ""), day_of_parts("", "", "")
    ('3/9', '')
    """
    day, month, year = day.strip(), month.strip(), year.strip()
    numbers = all(_NUMBER.fullmatch(part) for part in (month, year)) and len(year) == 4
    if numbers and (not day or _NUMBER.fullmatch(day)):
        return "-".join([year, month.zfill(2), *([day.zfill(2)] if day else [])])
    if not year and _NUMBER.fullmatch(day) and _NUMBER.fullmatch(month):
        return f"{day}/{month}"
    return " ".join(part for part in (day, month, year) if part)


def code_of_parts(letters: str, digits: str) -> str:
    """One tag code from a column of letters and a column of digits.

    >>> code_of_parts(" SM ", "0012"), code_of_parts("SM", "")
    ('SM0012', '')
    """
    return letters.strip() + digits.strip() if digits.strip() else ""


def grid_of_parts(zone: str, easting: str, northing: str) -> str:
    """One text from the columns of a grid position.

    >>> grid_of_parts("20T", "400000", "5090000"), grid_of_parts("20T", "", "")
    ('20T 400000 5090000', '')
    """
    if not easting.strip() or not northing.strip():
        return ""
    return f"{zone.strip()} {easting.strip()} {northing.strip()}".strip()
