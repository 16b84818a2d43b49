"""What an eventDate says about the terms that hold its parts."""

from __future__ import annotations

from pipeline.audit.iso_date import DAY, MONTH
from pipeline.audit.iso_day import IsoDay


def parts_of_day(event: IsoDay) -> dict[str, int]:
    """The parts that it settles: a month only if it stays within one, places in the year only if it knows its days.

    >>> from pipeline.audit.iso_day import iso_day
    >>> parts_of_day(iso_day("2025-08-09"))
    {'year': 2025, 'month': 8, 'day': 9, 'startDayOfYear': 221, 'endDayOfYear': 221}
    >>> parts_of_day(iso_day("1981-12-30/1982-01-03")), parts_of_day(iso_day("2025-08"))
    ({'startDayOfYear': 364, 'endDayOfYear': 3}, {'year': 2025, 'month': 8})
    """
    parts = {}
    first, last = event.first, event.last
    if first.year == last.year:
        parts["year"] = first.year
        if first.month == last.month and event.precision >= MONTH:
            parts["month"] = first.month
    if event.precision >= DAY:
        if first == last:
            parts["day"] = first.day
        parts["startDayOfYear"] = first.of_year()
        parts["endDayOfYear"] = last.of_year()
    return parts
