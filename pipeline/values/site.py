"""A place as the coordinator gives it in an answer: a point, and how far round it the name reaches."""

from __future__ import annotations

import re

from pipeline.values.position import read_pair

_REACH = re.compile(r"[\s,;(]+(\d+(?:[.,]\d+)?)\s*(km|m)\b\)?\s*$", re.IGNORECASE)
_FIRST = re.compile(r"\d{2,3}(?!\d)")
_METRES = {"km": 1000.0, "m": 1.0}


def site_point(text: str) -> str:
    """Latitude, longitude and metres with blanks between, "" where the text holds no clear point.

    >>> site_point("45.92, -64.35"), site_point("45°55'N 64°21'W, 3 km"), site_point("near the bridge")
    ('45.92 -64.35', '45.9166667 -64.3500000 3000', '')
    """
    reach = _REACH.search(text)
    pair = read_pair(text[: reach.start()] if reach else text)
    first = _FIRST.match(text)
    is_crossed = first is not None and int(first[0]) > 90  # a longitude first: which is meant?
    if is_crossed or any(reading.doubt or not reading.value for reading in pair):
        return ""
    metres = f"{float(reach[1].replace(',', '.')) * _METRES[reach[2].lower()]:g}" if reach else ""
    return " ".join(filter(None, (*(reading.value for reading in pair), metres)))
