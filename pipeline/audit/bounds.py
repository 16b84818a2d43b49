"""The first and the last day that a test lets pass, from a date of any precision."""

from __future__ import annotations

from functools import lru_cache

from pipeline.audit.calendar_day import Day
from pipeline.audit.iso_day import IsoDay, iso_day


def first_allowed(bound: str) -> Day:
    """The day with which a bound begins.

    >>> first_allowed("1582-11-15"), first_allowed("1753")
    (Day(year=1582, month=11, day=15), Day(year=1753, month=1, day=1))
    """
    return _read(bound).first


def last_allowed(bound: str) -> Day:
    """The day with which a bound ends.

    >>> last_allowed("2026")
    Day(year=2026, month=12, day=31)
    """
    return _read(bound).last


@lru_cache(maxsize=16)
def _read(bound: str) -> IsoDay:
    found = iso_day(bound)
    if found is None:
        raise ValueError(f"the bound {bound!r} is no valid ISO 8601 date")
    return found
