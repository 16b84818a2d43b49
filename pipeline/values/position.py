"""A latitude or longitude in degrees, or both in one cell."""

from __future__ import annotations

import re
from decimal import Decimal

from pipeline.model import Reading
from pipeline.values.grid import Found, read_point
from pipeline.values.position_pair import LIMITS, part_in_doubt, ways_to_part
from pipeline.values.position_text import Written, is_other_notation, plain_signs, taken_apart
from pipeline.values.text import is_blank_word

_PLAIN = re.compile(r"-?\d+(?:\.(\d+))?", re.ASCII)
_LONGEST = 100


def read(text: str, kind: str, axis: str, o_is_west: bool = False, hemisphere: str = "") -> Reading:
    """One coordinate in decimal degrees; `hemisphere` (N, S, E, W) settles a text without sign or letter.

    >>> read("45.5", "n", "latitude")
    Reading(value='45.5', change='', doubt='', candidates=())
    >>> read("79,38°W", "t", "longitude")
    Reading(value='-79.38', change='decimal degrees', doubt='', candidates=())
    >>> read("43°39'12\\"N", "t", "latitude").value, read("0°30'S", "t", "latitude").value
    ('43.6533333', '-0.5000000')
    >>> read("64.8", "t", "longitude", hemisphere="W").value
    '-64.8'
    >>> read("79.38 O", "t", "longitude", o_is_west=True).value
    '-79.38'
    >>> read("79.38 O", "t", "longitude")
    Reading(value='79.38 O', change='', doubt='two-readings', candidates=('-79.38', '79.38'))
    >>> [read(text, "t", "latitude").doubt for text in ("-43.65N", "43°61'N", "64.8 W")]
    ['sign-against-letter', 'minutes-over-59', 'wrong-axis']
    >>> [read(text, "t", "latitude").doubt for text in ("143.65", "by the gate")]
    ['off-the-globe', 'not-a-number']
    >>> read("20T 400000 5090000", "t", "latitude").doubt
    'other-notation'
    >>> read("n/a", "t", "latitude")
    Reading(value='', change='a word for nothing', doubt='', candidates=())
    """
    typed = text.strip()
    if not typed or is_blank_word(typed):
        return Reading("", "a word for nothing" if typed else "")
    is_settled = typed.startswith("-") or hemisphere not in ("S", "W")
    if kind in "tn" and _PLAIN.fullmatch(typed) and is_settled and abs(float(typed)) <= LIMITS[axis]:
        return Reading(typed)  # most cells, by the short way
    signs = plain_signs(typed)
    if kind not in "tn" or len(typed) > _LONGEST:
        return Reading(typed, doubt="not-a-number")
    if is_other_notation(signs):
        return Reading(typed, doubt="other-notation")
    written = taken_apart(signs)
    if written is None or written.is_doubly_directed:
        return Reading(typed, doubt="not-a-number")
    return _of_written(typed, written, axis, o_is_west, hemisphere)


def from_parts(  # noqa: PLR0913 - a parameter for each column
    degrees: str, minutes: str, seconds: str, hemisphere: str, axis: str, o_is_west: bool = False
) -> Reading:
    """One coordinate whose degrees, minutes, seconds and letter stand in columns of their own.

    >>> from_parts("45", "30.5", "", "N", "latitude")
    Reading(value='45.5083333', change='decimal degrees', doubt='', candidates=())
    >>> from_parts("-64", "48", "0", "", "longitude").value, from_parts("", "", "", "N", "latitude").value
    ('-64.8000000', '')
    >>> from_parts("", "30", "", "N", "latitude").doubt
    'not-a-number'
    """
    cells = [cell.strip() for cell in (degrees, minutes, seconds)]
    filled = ["" if is_blank_word(cell) else cell for cell in cells]
    typed = " ".join(cell for cell in (*filled, hemisphere.strip()) if cell)
    if not any(filled):
        return Reading("")
    if not filled[0] or (filled[2] and not filled[1]):
        return Reading(typed, doubt="not-a-number")
    return read(typed, "t", axis, o_is_west)


# A latitude on the globe, a longitude west of Greenwich: no other order, no missing sign.
_PLAIN_PAIR = re.compile(r"([1-8]?[0-9]\.[0-9]+)(?:, |,|; | )(-(?:1[0-7][0-9]|[1-9]?[0-9])\.[0-9]+)")


def read_pair(
    text: str, o_is_west: bool = False, hemisphere: str = "", is_longitude_first: bool = False
) -> tuple[Reading, Reading]:
    """Latitude and longitude from one cell; `hemisphere` (E, W) settles a longitude without sign or letter.

    The heading may say that the longitude stands first; a letter beside a number says more.

    >>> [reading.value for reading in read_pair("45.5, -64.8")]
    ['45.5', '-64.8']
    >>> [reading.value for reading in read_pair("45°30'N 64°48'O", o_is_west=True)]
    ['45.5000000', '-64.8000000']
    >>> [reading.value for reading in read_pair("-120.5 45.2")]  # only one order fits the globe
    ['45.2', '-120.5']
    >>> [reading.value for reading in read_pair("-64.8, 45.5", is_longitude_first=True)]
    ['45.5', '-64.8']
    >>> read_pair("45.5 - 64.8")[0].doubt, read_pair("45.5")[1].doubt, read_pair("geo:45.5,-64.8")[0].doubt
    ('two-readings', 'not-a-number', '')
    """
    typed = text.strip()
    if not is_longitude_first and (
        plain := _PLAIN_PAIR.fullmatch(typed)
    ):  # most pairs: no need to look at every way of writing one
        return Reading(plain[1], "decimal degrees"), Reading(plain[2], "decimal degrees")
    if not typed or is_blank_word(typed):
        blank = Reading("", "a word for nothing" if typed else "")
        return blank, blank
    signs = plain_signs(typed[: _LONGEST + 1]).strip("()[]{}. ")
    if found := read_point(typed):
        return _of_point(typed, found)
    if is_other_notation(signs):
        return (Reading(typed, doubt="not-a-number"),) * 2
    ways = ways_to_part(signs, is_longitude_first) if len(typed) <= _LONGEST else []
    # In "45.5 - 64.8" the dash may part the two or belong to the second.
    if len(ways) != 1 or re.search(r"\d\s+-\s+\d", signs):
        return (Reading(typed, doubt="two-readings" if ways else "not-a-number"),) * 2
    latitude, longitude = ways[0]
    return (
        _of_written(typed, latitude, "latitude", o_is_west, ""),
        _of_written(typed, longitude, "longitude", o_is_west, hemisphere),
    )


def _of_point(typed: str, found: Found) -> tuple[Reading, Reading]:
    """A point told in a grid or a link; where it may be two, both are offered."""
    one = (found.latitude, found.longitude)
    if found.other:
        pairs = zip(one, found.other, strict=True)
        latitude, longitude = (Reading(typed, doubt="two-readings", candidates=pair) for pair in pairs)
        return latitude, longitude
    why = f"decimal degrees from {found.system}"
    return Reading(found.latitude, why), Reading(found.longitude, why)


def decimals(text: str) -> int | None:
    """How many decimals a plain number of degrees was written with, trailing zeros counted.

    >>> decimals("45.50"), decimals("-64"), decimals("45°30'N")
    (2, 0, None)
    """
    found = _PLAIN.fullmatch(text.strip())
    return len(found[1] or "") if found else None


def _of_written(typed: str, written: Written, axis: str, o_is_west: bool, hemisphere: str) -> Reading:
    direction = written.direction
    if direction == "O" and not o_is_west and axis == "longitude":
        west, east = (_decimal(written._replace(sign=sign)) for sign in ("-", ""))
        return Reading(typed, doubt="two-readings", candidates=(west, east))
    doubt = part_in_doubt(written)
    if doubt:
        return Reading(typed, doubt=doubt)
    if _is_contradicted(written, hemisphere):
        return Reading(typed, doubt="sign-against-letter")
    is_negative = written.sign == "-" or (not written.sign and (direction or hemisphere) in ("S", "W", "O"))
    value = _decimal(written._replace(sign="-" if is_negative else ""))
    if written.axis and written.axis != axis:
        return Reading(typed, doubt="wrong-axis", candidates=(value,))
    if abs(Decimal(value)) > LIMITS[axis]:
        return Reading(typed, doubt="off-the-globe", candidates=(value,))
    return Reading(value, "" if value == typed else "decimal degrees")


def _is_contradicted(written: Written, hemisphere: str) -> bool:
    direction = written.direction.replace("O", "W")
    said = {"-": "SW", "+": "NE"}.get(written.sign, "")
    if said and direction and direction not in said:
        return True
    return bool(hemisphere and direction) and direction != hemisphere


def _decimal(written: Written) -> str:
    if not written.minutes:
        value = written.degrees
    else:
        parts = (Decimal(part or 0) for part in (written.degrees, written.minutes, written.seconds))
        total = sum((part / step for part, step in zip(parts, (1, 60, 3600), strict=True)), Decimal(0))
        value = f"{total:.7f}"
    return f"-{value}" if written.sign == "-" and Decimal(value) else value
