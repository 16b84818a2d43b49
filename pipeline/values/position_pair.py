"""A latitude and a longitude in one text: where the one ends and the other begins."""

from __future__ import annotations

import re
from decimal import Decimal

from pipeline.values.position_text import Written, taken_apart

LIMITS = {"latitude": 90, "longitude": 180}
_BETWEEN = re.compile(r"\s*[;,/|]\s*|\s+|(?<=[nsewo])(?=[\d+-])|(?<=[\d'\"])(?=lon)")


def ways_to_part(signs: str, is_longitude_first: bool = False) -> list[tuple[Written, Written]]:
    """Every way to read the text as a latitude and a longitude of the same make, given in this order."""
    alone = taken_apart(signs)
    if alone and not part_in_doubt(alone):
        return []
    ways = []
    for between in _BETWEEN.finditer(signs):
        one, two = taken_apart(signs[: between.start()]), taken_apart(signs[between.end() :])
        if not one or not two or one.is_doubly_directed or two.is_doubly_directed:
            continue
        if one.parts == two.parts or (one.axis and two.axis):
            ways.append(_in_order(one, two, is_longitude_first))
    return list(dict.fromkeys(way for way in ways if way))


def _in_order(one: Written, two: Written, is_longitude_first: bool) -> tuple[Written, Written] | None:
    if one.axis and one.axis == two.axis:
        return None
    is_crossed = one.axis == "longitude" or two.axis == "latitude"
    if not one.axis and not two.axis:
        first, second = float(one.degrees), float(two.degrees)
        limit = LIMITS["latitude"]
        # Only one order fits the globe, else the heading's holds.
        is_crossed = first > limit >= second or (is_longitude_first and not second > limit >= first)
    return (two, one) if is_crossed else (one, two)


def part_in_doubt(written: Written) -> str:
    """Why degrees, minutes and seconds do not make one number, "" where they do."""
    if (written.minutes and "." in written.degrees) or (written.seconds and "." in written.minutes):
        return "not-a-number"
    is_over = any(Decimal(part or 0) > 60 for part in (written.minutes, written.seconds))
    return "minutes-over-59" if is_over else ""
