"""The number that a spreadsheet keeps for a day."""

from __future__ import annotations

import datetime

_FIRST_DAYS = (datetime.date(1899, 12, 30), datetime.date(1904, 1, 1))  # what spreadsheets count as day 0
_YEARS_OF_NUMBERS = 5  # a five-digit number is a day only if it lies so near the season


def days_of_number(number: int, season_year: int) -> tuple[str, ...]:
    """The days near the season that a number without its format may be, counted from 1900 or from 1904.

    >>> days_of_number(46268, 2026), days_of_number(44806, 2026), days_of_number(12345, 2026)
    (('2026-09-03', '2030-09-04'), ('2022-09-02', '2026-09-03'), ())
    """
    days = [start + datetime.timedelta(days=number) for start in _FIRST_DAYS]
    return tuple(day.isoformat() for day in days if abs(day.year - season_year) <= _YEARS_OF_NUMBERS)
