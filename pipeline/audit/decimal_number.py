"""Numbers with a decimal point, and whether they are degrees on the globe, as the draft's tests take them."""

import re

_NUMBER = re.compile(r"[+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]{1,3})?")

BLANKS = "".join(map(chr, range(0x21)))


def decimal_number(value: str) -> float | None:
    """The number in a value, blanks round it left out; None where there is none.

    >>> decimal_number(" 45.50 "), decimal_number("-.5"), decimal_number("1e3"), decimal_number("+7.")
    (45.5, -0.5, 1000.0, 7.0)
    >>> [decimal_number(value) for value in ("41.0554 N", "45,5", "nan", "1_000", "", "\\u00a045")]
    [None, None, None, None, None, None]
    """
    value = value.strip(" \t\n\r\v\f")
    return float(value) if _NUMBER.fullmatch(value) else None


def not_on_globe(latitude: str, longitude: str) -> str:
    """Why two values are no point on the globe, "" where they are one.

    >>> not_on_globe("45.5", "-64.8"), not_on_globe("", "-64.8"), not_on_globe("45.5", "-190")
    ('', 'decimalLatitude is empty', "decimalLongitude is '-190', outside -180 to 180")
    """
    for name, value, limit in (("decimalLatitude", latitude, 90), ("decimalLongitude", longitude, 180)):
        if (number := decimal_number(value)) is None:
            return f"{name} is {value!r}, not a number" if value.strip(BLANKS) else f"{name} is empty"
        if not -limit <= number <= limit:
            return f"{name} is {value!r}, outside -{limit} to {limit}"
    return ""
