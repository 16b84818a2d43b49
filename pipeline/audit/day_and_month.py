"""Days of a month and months that are written in another way than as a whole number."""

from __future__ import annotations

import re

from pipeline.audit.whole_number import whole_number
from pipeline.values.month_names import MONTH_OF_WORD
from pipeline.values.text import fold

_WITH_SIGN = re.compile(r"(\d{1,2})\s?(st|nd|rd|th|er|º|\.0*)", re.ASCII | re.IGNORECASE)
_ENDING = {1: "st", 2: "nd", 3: "rd", 21: "st", 22: "nd", 23: "rd", 31: "st"}
_ENDINGS = {"st", "nd", "rd", "th"}


def day_meant(written: str) -> int | None:
    """The whole number that a day is, also as 23rd or 8.0; None where it is none. Roman numerals are none.

    >>> [day_meant(day) for day in ("23rd", "1er", "1st", "5.", "8.0", " 09 ", "45")]
    [23, 1, 1, 5, 8, 9, 45]
    >>> [day_meant(day) for day in ("IV", "3th", "5th Friday", "8.5", "")]
    [None, None, None, None, None]
    """
    if (number := whole_number(written)) is not None:
        return number
    found = _WITH_SIGN.fullmatch(written.strip())
    if not found:
        return None
    number, sign = int(found[1]), found[2].lower()
    # A wrong ending may come with a wrong number: 2th, for 12th.
    is_wrong = (sign in _ENDINGS and sign != _ENDING.get(number, "th")) or (sign == "er" and number != 1)
    return None if is_wrong else number


def month_meant(written: str) -> int | None:
    """The whole number that a month is, also as a name in English, French or Spanish or as a Roman numeral.

    >>> [month_meant(month) for month in ("IV", "Sept.", "août", "ene", "9.0", "8.", " 09 ", "13")]
    [4, 9, 8, 1, 9, 8, 9, 13]
    >>> [month_meant(month) for month in ("Ma", "jui", "IIII", "8.5", "summer", "")]
    [None, None, None, None, None, None]
    """
    if (number := whole_number(written)) is not None:
        return number
    folded = fold(written)
    if (number := MONTH_OF_WORD.get(folded.removesuffix("."))) is not None:
        return number
    whole, point, decimals = folded.partition(".")
    return int(whole) if point and not decimals.strip("0") and re.fullmatch("[0-9]{1,2}", whole) else None
