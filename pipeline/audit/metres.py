"""A height or depth with its unit, or a range of them, in metres."""

import re

_FACTORS = {"m": 1.0, "ft": 0.3048, "yd": 0.9144, "km": 1000.0}  # exact by definition
_UNIT = (
    r"(?P<{0}_km>km|kms|kilomet(?:re|er)s?)|(?P<{0}_m>m|mt|mts|mtrs?|met(?:re|er)s?)"
    r"|(?P<{0}_ft>ft|feet|foot|')|(?P<{0}_yd>yds?|yards?)"
)
_NUMBER = r"[+-]?[0-9]{1,6}(?:\.[0-9]{1,6})?"
_RANGE = re.compile(
    rf"(?P<one>{_NUMBER})\s*(?:{_UNIT.format('one')})?\.?"
    rf"(?:\s*(?:-|–|—|to)\s*(?P<two>{_NUMBER})\s*(?:{_UNIT.format('two')})\.?)?"
)
_LEVEL = re.compile(r"\s*(?:\(?\s*(?:a\.?s\.?l\.?|above sea level)\s*\)?)$")


def metres_from(text: str) -> tuple[str, str] | None:
    """The lowest and the highest of a length or a range in metres; None where unit, number or order is not clear.

    >>> metres_from("100 feet"), metres_from("1500 - 2000 Ft"), metres_from("0.2 km"), metres_from("12.50 m")
    (('30.48', '30.48'), ('457.2', '609.6'), ('200', '200'), ('12.50', '12.50'))
    >>> [metres_from(text) for text in ("1000", "1,500 m", "300-200 m", "ca. 100 m", "x")]
    [None, None, None, None, None]
    """
    found = _RANGE.fullmatch(_LEVEL.sub("", text.strip().lower()))
    if not found:
        return None
    units = [next((unit for unit in _FACTORS if found[f"{side}_{unit}"]), "") for side in ("one", "two")]
    if not found["two"]:
        value = _in_metres(found["one"], units[0]) if units[0] else ""
        return (value, value) if value else None
    low, high = _in_metres(found["one"], units[0] or units[1]), _in_metres(found["two"], units[1])
    return (low, high) if float(low) <= float(high) else None


def _in_metres(number: str, unit: str) -> str:
    number = number.removeprefix("+")
    if unit == "m":
        return number
    text = f"{float(number) * _FACTORS[unit]:.8f}".rstrip("0").removesuffix(".")
    return "0" if text == "-0" else text
