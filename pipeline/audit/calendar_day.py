"""Days of the Gregorian calendar, carried back before it began and to the year 0, as ISO 8601 has them."""

from __future__ import annotations

from calendar import isleap
from itertools import accumulate
from typing import NamedTuple

_DAYS = (0, 31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
_BEFORE_MONTH = (0, 0, *accumulate(_DAYS[1:12]))


class Day(NamedTuple):
    """A day that the calendar has; the library's own `date` has no year 0."""

    year: int
    month: int
    day: int

    def of_year(self) -> int:
        """Its place in its year, from 1.

        >>> Day(2007, 3, 1).of_year(), Day(2008, 12, 31).of_year()
        (60, 366)
        """
        return _BEFORE_MONTH[self.month] + self.day + (self.month > 2 and isleap(self.year))

    def number(self) -> int:
        """Its place among all days, counted as the library does.

        >>> Day(1, 1, 1).number(), Day(0, 12, 31).number()
        (1, 0)
        """
        before = self.year - 1
        return 365 * before + before // 4 - before // 100 + before // 400 + self.of_year()

    def weekday(self) -> int:
        """Monday is 1, Sunday is 7.

        >>> Day(2021, 10, 29).weekday()
        5
        """
        return (self.number() - 1) % 7 + 1

    def iso(self) -> str:
        """Year, month and day with hyphens.

        >>> Day(932, 8, 9).iso()
        '0932-08-09'
        """
        return f"{self.year:04}-{self.month:02}-{self.day:02}"


def days_in_month(year: int, month: int) -> int:
    """How many days the month has.

    >>> days_in_month(2000, 2), days_in_month(1900, 2)
    (29, 28)
    """
    return _DAYS[month] + (month == 2 and isleap(year))


def days_in_year(year: int) -> int:
    """365, or 366 in a leap year."""
    return 365 + isleap(year)


def day_of_year(year: int, place: int) -> Day | None:
    """The day at a place in a year, or None if the year has no such place.

    >>> day_of_year(1901, 32), day_of_year(2000, 366), day_of_year(1901, 366), day_of_year(1901, 0)
    (Day(year=1901, month=2, day=1), Day(year=2000, month=12, day=31), None, None)
    """
    if not 1 <= place <= days_in_year(year):
        return None
    for month in range(1, 12):
        if place <= (days := days_in_month(year, month)):
            return Day(year, month, place)
        place -= days
    return Day(year, 12, place)


def day_of_week(year: int, week: int, weekday: int) -> Day | None:
    """The day of a numbered week, or None if the year has no such week.

    >>> day_of_week(2009, 1, 1), day_of_week(2020, 53, 5), day_of_week(2021, 53, 1)
    (Day(year=2008, month=12, day=29), Day(year=2021, month=1, day=1), None)
    """
    # Week 1 is the one that holds 4 January.
    monday = 4 - (Day(year, 1, 4).weekday() - 1)
    place = monday + (week - 1) * 7 + weekday - 1
    next_monday = days_in_year(year) + 4 - (Day(year + 1, 1, 4).weekday() - 1)
    if week < 1 or not 1 <= weekday <= 7 or place - weekday + 1 >= next_monday:
        return None
    if place < 1:
        return day_of_year(year - 1, place + days_in_year(year - 1))
    in_year = days_in_year(year)
    return day_of_year(year, place) if place <= in_year else day_of_year(year + 1, place - in_year)
