"""Rows of which the cells stand one column beside their headings."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

LEFT, RIGHT = "left", "right"
FEWEST, SHARE = 4, 0.6  # rows, and of them those whose cells stand under their headings
_CODE = re.compile(r"\s*(?:[A-Za-z]{1,4}[- ]?\d{2,6}|\d[A-Za-z][- ]?\d{3,5})\s*")
_DAY = re.compile(r"\s*\d{1,4}[-/. ](?:\d{1,2}|[^\W\d]{3,10}\.?)[-/. ]\d{1,4}(?:[ T].*)?\s*")


def shifted(rows: Mapping[int, Sequence[str]], tag: int, day: int) -> dict[int, str]:
    """By row: to which side its cells were pushed, where both its code and its day stand one column beside.

    `tag` and `day` are columns; a sheet in which most rows look so has another kind of code.

    >>> rows = {row: ("SM0101", "2026-09-03", "Truro", "") for row in range(2, 8)}
    >>> shifted({**rows, 8: ("", "SM0107", "2026-09-03", "Truro")}, 0, 1)
    {8: 'right'}
    """
    if tag < 0 or day < 0 or len(rows) < FEWEST:
        return {}
    in_place = sum(1 for cells in rows.values() if _fits(cells, tag, day))
    if in_place < SHARE * len(rows) or in_place == len(rows):
        return {}
    found = {}
    for row, cells in rows.items():
        if _is_like(_CODE, cells, tag) or _is_like(_DAY, cells, day):
            continue
        for side, step in ((RIGHT, 1), (LEFT, -1)):
            if _fits(cells, tag + step, day + step):
                found[row] = side
    return found


def _fits(cells: Sequence[str], tag: int, day: int) -> bool:
    return _is_like(_CODE, cells, tag) and _is_like(_DAY, cells, day)


def _is_like(kind: re.Pattern[str], cells: Sequence[str], column: int) -> bool:
    return 0 <= column < len(cells) and kind.fullmatch(cells[column]) is not None
