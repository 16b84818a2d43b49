"""Dates, dates with times and intervals of them in ISO 8601, as the data quality draft takes them.

The end of an interval is included. A year has four figures, and an interval two ends: no lengths such as P3D.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from pipeline.audit.calendar_day import Day
from pipeline.audit.iso_date import IsoDate, iso_date
from pipeline.audit.iso_time import IsoTime, iso_time

_SECONDS = 24 * 60 * 60


class IsoDay(NamedTuple):
    """The days from first to last, as the writer's calendar had them, and the seconds between the two ends."""

    first: Day
    last: Day
    precision: int  # of the end that is less precise: YEAR, MONTH, WEEK or DAY of `iso_date`
    starts: int  # a second, counted in UTC where zones are known
    ends: int  # the second after
    has_zone: bool

    @property
    def seconds(self) -> int:
        """How long it is; every day has 86,400."""
        return self.ends - self.starts

    def is_before(self, other: IsoDay) -> bool:
        """Whether it is over when the other begins; by their days where only one says its zone."""
        if self.has_zone != other.has_zone:
            return self.last < other.first
        return self.ends <= other.starts


def iso_day(value: str) -> IsoDay | None:
    """What days a value stands for; None where it is no valid ISO 8601.

    >>> iso_day("2025-08-09").seconds, iso_day("1880-05-08/10").seconds, iso_day("2024").seconds
    (86400, 259200, 31622400)
    >>> iso_day("1962-11-01T10:00-0600").first, iso_day("2025-08-09T10").seconds
    (Day(year=1962, month=11, day=1), 3600)
    >>> iso_day("2007-12-14T13:30/15:30").seconds, iso_day("2007-11-13T09:00/15T17:00").last
    (7200, Day(year=2007, month=11, day=15))
    >>> [iso_day(value) for value in ("2025-08-09/2025-08-08", "2025-08-09T", "2025-08-09 10:00", "1911/12", "/2025")]
    [None, None, None, None, None]
    """
    first, is_interval, last = value.partition("/")
    start = _end(first)
    if start is None:
        return None
    date, time = start
    if is_interval:
        return _interval(start, first, last)
    if time is None:
        starts, ends = date.first_number * _SECONDS, (date.last_number + 1) * _SECONDS
        return IsoDay(date.first, date.last, date.precision, starts, ends, False)
    starts = date.first_number * _SECONDS + time.second - (time.zone or 0)
    return IsoDay(date.first, date.last, date.precision, starts, starts + time.length, time.zone is not None)


def day_alone(value: str) -> str:
    """A valid day with a time as the day, and all else as it stands.

    >>> day_alone("2025-08-09T14:05-0300"), day_alone("2025-08-09T14:67"), day_alone("2025-08-09/12")
    ('2025-08-09', '2025-08-09T14:67', '2025-08-09/12')
    """
    if value[10:11] != "T" or "/" in value:
        return value
    return value[:10] if iso_date(value[:10]) and iso_time(value[11:]) else value


_End = tuple[IsoDate, IsoTime | None]


def _end(written: str) -> _End | None:
    day, has_time, clock = written.partition("T")
    date = iso_date(day)
    if date is None or not has_time:
        return (date, None) if date else None
    # One argument is found again faster than two.
    time = iso_time(clock, True) if date.is_basic else iso_time(clock)
    return (date, time) if time and date.first == date.last else None


def _interval(start: _End, first: str, last: str) -> IsoDay | None:
    for written in _last_ends(start, first, last):
        end = _end(written)
        found = _between(start, end) if end else None
        if found:
            return found
    return None


def _last_ends(start: _End, first: str, last: str) -> Iterator[str]:
    """The later end as written, then filled up with what it may have left to the earlier one."""
    yield last
    day, has_time, _ = first.partition("T")
    if has_time and (":" in last or last.startswith("T")) and "T" not in last[1:]:
        yield f"{day}T{last.removeprefix('T')}"
    later_day, later_time, _ = last.partition("T")
    kept = len(day) - len(later_day)
    # After a time, 15 alone might be a day or an hour.
    is_whole_part = (kept in (4, 6) and len(day) == 8) if start[0].is_basic else day[kept - 1 : kept] == "-"
    if 0 < kept < len(day) and is_whole_part and bool(has_time) == bool(later_time):
        yield day[:kept] + last


def _between(start: _End, end: _End) -> IsoDay | None:
    (date, time), (last_date, last_time) = start, end
    starts = date.first_number * _SECONDS + (time.second if time else 0)
    ends = last_date.last_number * _SECONDS + (last_time.second if last_time else _SECONDS)
    zones = [one.zone for one in (time, last_time) if one and one.zone is not None]
    if zones:
        # A zone that is written at one end only holds for both.
        starts, ends = starts - zones[0], ends - zones[-1]
    if ends < starts or last_date.last < date.first:
        return None
    precision = min(date.precision, last_date.precision)
    return IsoDay(date.first, last_date.last, precision, starts, ends, bool(zones))
