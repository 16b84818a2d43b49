"""Values that stand in several columns, put together as one text before they are read."""

from __future__ import annotations

import re

from pipeline.values.month_names import ROMAN

_NUMBER = re.compile(r"\d+")


def day_of_parts(day: str, month: str, year: str) -> str:
    """One day from the cells of a day, a month and a year column, so that none can be taken for another.

    >>> day_of_parts("3", "9", "2026"), day_of_parts("3", "Sept", "2026"), day_of_parts("", "9", "2026")
    ('2026-09-03', '3 Sept 2026', '2026-09')
    >>> day_of_parts("3", "9", "26"), day_of_parts("3", "9", ""), day_of_parts("", "", "")
    ('3 IX 26', '3 IX', '')
    >>> day_of_parts("9", "13", "2026")  # its month is none, and we do not exchange what its columns tell apart
    '9 | 13 | 2026'
    """
    day, month, year = day.strip(), month.strip(), year.strip()
    if not _NUMBER.fullmatch(month):
        return " ".join(part for part in (day, month, year) if part)
    if not 0 <= int(month) <= len(ROMAN):
        return " | ".join((day, month, year))
    if _NUMBER.fullmatch(year) and len(year) == 4 and (not day or _NUMBER.fullmatch(day)):
        return "-".join([year, month.zfill(2), *([day.zfill(2)] if day else [])])
    word = ROMAN[int(month) - 1].upper() if int(month) else month
    return " ".join(part for part in (day or "0", word, year) if part)


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
