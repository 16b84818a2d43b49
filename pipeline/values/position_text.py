"""How one coordinate is written: number, minutes, seconds, sign, letter, word."""

from __future__ import annotations

import re
from typing import NamedTuple

from pipeline.values.text import fold

# Before NFKC, which would turn the masculine ordinal into the letter o and so into Oeste.
_SIGNS = str.maketrans(
    dict.fromkeys("°º˚ᵒ⁰∘◦ﹾᵈ", "°")
    | dict.fromkeys("′’‘ʹ´`ʼ‵＇", "'")
    | dict.fromkeys("″”“ʺ˝″‟„＂", '"')
    | dict.fromkeys("−‐‑‒–—―﹣-⁻", "-")
    | {"‴": "'''"}
)
_DIRECTION = r"north|norte|nord|nor|n|south|sud|sur|s|east|este|est|e|west|ouest|oeste|w|o"
_ENDS = rf"(?=\W|\d|(?:{_DIRECTION})\W*$|$)"
_DEGREE_WORD = re.compile(rf"(?<=\d)\s*(?:degrees?|degres?|grados?|deg\.?|d){_ENDS}")
_MINUTE_WORD = re.compile(rf"(?<=\d)\s*(?:minutes?|minutos?|min\.?|m){_ENDS}")
_SECOND_WORD = re.compile(rf"(?<=\d)\s*(?:seconds?|secondes?|segundos?|sec\.?|seg\.?){_ENDS}")
# After minutes written m an s stands for seconds; after any other mark it stands for South.
_SECOND_LETTER = re.compile(rf"(?<=')(\s*\d+(?:[.,]\d*)?)\s*s{_ENDS}")
# Degrees, minutes and seconds without a mark between them; minutes alone so written may be decimals of a degree.
_PACKED = re.compile(r"([ns])?\s*(\d{2,3})([0-5]\d)([0-5]\d(?:[.,]\d+)?)\s*([nsewo])?", re.ASCII)
_NUMBER = r"\d+(?:[.,]\d*)?|[.,]\d+"
_BETWEEN = r"\s*:\s*|-|\s+"
_COORDINATE = re.compile(
    rf"""
    (?: (?P<label> lat(?:itude?)? | lon(?:g|gitude?)? ) \b \.? \s* [:=]? \s* )?
    (?: (?P<before> {_DIRECTION} ) (?![a-z]) [.:]? \s* )?
    (?P<sign> [-+] )? \s*
    (?P<degrees> {_NUMBER} )
    (?: (?: \s*°\s*-?\s* | {_BETWEEN} ) (?P<minutes> {_NUMBER} )
        (?: (?: \s*'\s*-?\s* | {_BETWEEN} ) (?P<seconds> {_NUMBER} ) \s* ["']? | \s* '? )
    | \s* °? )
    \s* [,;]? \s* (?P<after> {_DIRECTION} )? \s* [.,;]*
    """,
    re.VERBOSE | re.ASCII,
)
_OTHER_NOTATION = re.compile(
    r"utm|mgrs|https?:|www\.|maps|geo:"
    r"|^\d{1,2}\s*[c-hj-np-x]\s*[a-hj-np-z]{2}[\s\d]*$"  # MGRS
    r"|^\d{1,2}\s*[c-hj-np-x]\s+\d{5,}"  # UTM with its zone
    r"|^[-+]\d{2,}(?:\.\d+)?[-+]\d{3,}(?:\.\d+)?"  # ISO 6709
    r"|^[23456789cfghjmpqrvwx]{4,8}\+[23456789cfghjmpqrvwx]{2,3}\b"  # open location code
    r"|\d{4,7}(?:\.\d+)?\s*m?\s*e\b.*\d{5,8}(?:\.\d+)?\s*m?\s*n\b"  # eastings and northings
)
_NORTH = ("n", "nor", "nord", "north", "norte")
_SOUTH = ("s", "sud", "sur", "south")
_WEST = ("w", "west", "o", "ouest", "oeste")


class Written(NamedTuple):
    """One coordinate as it was written, its parts still text; `direction` is N, S, E, W, O or nothing."""

    degrees: str
    minutes: str
    seconds: str
    sign: str
    direction: str
    axis: str  # that a label or a letter names
    is_doubly_directed: bool

    @property
    def parts(self) -> int:
        return 1 + bool(self.minutes) + bool(self.seconds)


def plain_signs(text: str) -> str:
    """One kind of degree, minute, second and minus sign; lower case, plain letters and digits.

    >>> plain_signs("45º 30′ 12″ Oeste"), plain_signs("−79.38")
    ('45° 30\\' 12" oeste', '-79.38')
    """
    return fold(text.translate(_SIGNS))


def is_other_notation(signs: str) -> bool:
    """A grid, a link or another way of naming a point that is no degrees.

    >>> [is_other_notation(text) for text in ("17t 630000 4833400", "+40-075/", "geo:45.5,-64.8", "45.5n")]
    [True, True, True, False]
    """
    return bool(_OTHER_NOTATION.search(signs))


def taken_apart(signs: str) -> Written | None:
    """The parts of one coordinate, or nothing if the text is none.

    >>> taken_apart("45°30'12\\"n")[:5]
    ('45', '30', '12', '', 'N')
    >>> taken_apart("4339 x")
    """
    found = _COORDINATE.fullmatch(_PACKED.sub(_unpacked, signs) if _PACKED.fullmatch(signs) else _with_marks(signs))
    if not found:
        return None
    letters = [_letter(found[name] or "") for name in ("before", "after")]
    direction = letters[0] or letters[1]
    label = {"lat": "latitude", "lon": "longitude"}.get((found["label"] or "")[:3], "")
    axis = {"N": "latitude", "S": "latitude", "": label}.get(direction, "longitude")
    return Written(
        degrees=_dotted(found["degrees"]),
        minutes=_dotted(found["minutes"] or ""),
        seconds=_dotted(found["seconds"] or ""),
        sign=found["sign"] or "",
        direction=direction,
        axis=axis,
        is_doubly_directed=all(letters) or bool(label and direction and label != axis),
    )


def _unpacked(found: re.Match[str]) -> str:
    before, degrees, minutes, seconds, after = found.groups("")
    return f"{before}{degrees}°{minutes}'{seconds}\"{after}" if before or after else found[0]


def _with_marks(signs: str) -> str:
    """Words and letters for degrees, minutes and seconds as the marks ° ' and \"."""
    marked = _SECOND_WORD.sub('"', _DEGREE_WORD.sub("°", signs.replace("''", '"')))
    worded = _MINUTE_WORD.sub("'", marked)
    return worded if worded == marked else _SECOND_LETTER.sub(r'\1"', worded)


def _letter(word: str) -> str:
    if word in _SOUTH:
        return "S"
    if word in _NORTH:
        return "N"
    if word in _WEST:
        return "O" if word == "o" else "W"
    return "E" if word else ""


def _dotted(number: str) -> str:
    number = number.replace(",", ".").removesuffix(".")
    return f"0{number}" if number.startswith(".") else number
