"""Whole numbers as the draft's tests take them."""

import re

_WHOLE = re.compile(r"[+-]?[0-9]{1,4000}")  # Python reads no longer ones


def whole_number(value: str) -> int | None:
    """The whole number in a value, blanks round it left out; None where there is none.

    >>> whole_number(" 09 "), whole_number("9.0"), whole_number("IX"), whole_number("-3"), whole_number("1234567890")
    (9, None, None, -3, 1234567890)
    """
    value = value.strip()
    return int(value) if _WHOLE.fullmatch(value) else None


def whole_number_among(value: str, lowest: int, highest: int) -> int | None:
    """The whole number in a value if it is one of these, both ends included.

    >>> whole_number_among("12", 1, 12), whole_number_among("13", 1, 12), whole_number_among("", 1, 12)
    (12, None, None)
    """
    number = whole_number(value)
    return number if number is not None and lowest <= number <= highest else None
