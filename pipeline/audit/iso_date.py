"""One date in ISO 8601, without a time: a year, a month, a week, a day of the calendar, of the year or of a week."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import NamedTuple

from pipeline.audit.calendar_day import Day, day_of_week, day_of_year, days_in_month

YEAR, MONTH, WEEK, DAY = 1, 2, 3, 4  # how precise, finer ones higher

_DATE = re.compile(
    r"(?P<year>\d{4})(?:"
    r"-(?P<month>\d\d)(?:-(?P<day>\d\d))?"
    r"|(?P<basic_month>\d\d)(?P<basic_day>\d\d)"
    r"|-?(?P<place>\d{3})"
    r"|-W(?P<week>\d\d)(?:-(?P<weekday>\d))?"
    r"|W(?P<basic_week>\d\d)(?P<basic_weekday>\d)?"
    r")?",
    re.ASCII,
)


class IsoDate(NamedTuple):
    """The days that a date stands for, both also as numbers, and how precise it is."""

    first: Day
    last: Day
    precision: int
    first_number: int
    last_number: int
    is_basic: bool  # without hyphens; a year is neither and counts as with


@lru_cache(maxsize=100_000)
def iso_date(value: str) -> IsoDate | None:
    """What days a date stands for; None where it has no form of ISO 8601 or no calendar has it.

    >>> iso_date("2025-08-09")[:3]
    (Day(year=2025, month=8, day=9), Day(year=2025, month=8, day=9), 4)
    >>> iso_date("2024-02").last, iso_date("2025-221").first, iso_date("2025-W32-6").first
    (Day(year=2024, month=2, day=29), Day(year=2025, month=8, day=9), Day(year=2025, month=8, day=9))
    >>> iso_date("2025-W32").first, iso_date("20250809").last
    (Day(year=2025, month=8, day=4), Day(year=2025, month=8, day=9))
    >>> [iso_date(value) for value in ("63", "202508", "2025-8-9", "2025-02-29", "2025-13", "2025-366", "2025-W53")]
    [None, None, None, None, None, None, None]
    """
    found = _DATE.fullmatch(value)
    days = _days(found) if found else None
    if found is None or days is None:
        return None
    first, last, precision = days
    return IsoDate(first, last, precision, first.number(), last.number(), "-" not in value and len(value) > 4)


def _days(found: re.Match[str]) -> tuple[Day, Day, int] | None:
    year = int(found["year"])
    if place := found["place"]:
        day = day_of_year(year, int(place))
        return (day, day, DAY) if day else None
    if week := found["week"] or found["basic_week"]:
        return _of_week(year, int(week), found["weekday"] or found["basic_weekday"])
    month = int(found["month"] or found["basic_month"] or 0)
    if found["month"] is None and not month:
        return None if found["basic_month"] else (Day(year, 1, 1), Day(year, 12, 31), YEAR)
    if not 1 <= month <= 12:
        return None
    days = days_in_month(year, month)
    if (written := found["day"] or found["basic_day"]) is None:
        return Day(year, month, 1), Day(year, month, days), MONTH
    return (Day(year, month, int(written)),) * 2 + (DAY,) if 1 <= int(written) <= days else None


def _of_week(year: int, week: int, weekday: str | None) -> tuple[Day, Day, int] | None:
    first, last = (day_of_week(year, week, int(weekday or end)) for end in (1, 7))
    return (first, last, DAY if weekday else WEEK) if first and last else None
