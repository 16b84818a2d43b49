"""A sheet that is named after a month, with nothing but the number of the day in its rows."""

from __future__ import annotations

import re
from collections.abc import Iterable

from pipeline.values.month_names import MONTH_OF_WORD
from pipeline.values.text import fold

_YEAR_FIRST = re.compile(r"(20\d\d)[-_. ]?(0?[1-9]|1[0-2])")
_MONTH_FIRST = re.compile(r"(0?[1-9]|1[0-2])[-_. /](20\d\d)")
_WORDS = re.compile(r"(?:(20\d\d)[\s_.-]*)?([a-z]{3,10})\.?(?:[\s_.-]*(20\d\d))?")
_DAY = re.compile(r"0?[1-9]|[12]\d|3[01]")


def month_of(name: str) -> tuple[str, str]:
    """The month and the year that a sheet is named after, "" where it names none.

    >>> month_of("Sept 2026"), month_of("2026-08"), month_of("août"), month_of("Sheet1"), month_of("Marsh")
    (('9', '2026'), ('8', '2026'), ('8', ''), ('', ''), ('', ''))
    """
    plain = fold(name.strip())
    if figures := _YEAR_FIRST.fullmatch(plain):
        return str(int(figures[2])), figures[1]
    if figures := _MONTH_FIRST.fullmatch(plain):
        return str(int(figures[1])), figures[2]
    words = _WORDS.fullmatch(plain)
    if not words or words[2] not in MONTH_OF_WORD:
        return "", ""
    return str(MONTH_OF_WORD[words[2]]), words[1] or words[3] or ""


def are_days_of_a_month(cells: Iterable[str]) -> bool:
    """Whether all filled cells are bare numbers from 1 to 31, and some are filled.

    >>> are_days_of_a_month(["3", "", "14"]), are_days_of_a_month(["3", "32"]), are_days_of_a_month([""])
    (True, False, False)
    """
    filled = [cell.strip() for cell in cells if cell.strip()]
    return bool(filled) and all(_DAY.fullmatch(cell) for cell in filled)
