"""A number, with or without its unit."""

from __future__ import annotations

import re
from decimal import Decimal

from pipeline.model import Reading
from pipeline.values.text import fold, is_blank_word

# Exact by definition (NIST Special Publication 811): inch 25.4 mm, foot 0.3048 m, ounce 28.349523125 g.
_UNITS = {
    "mm": {
        "mm": "1", "millimetre": "1", "millimeter": "1", "milimetro": "1", "cm": "10", "centimetre": "10",
        "centimeter": "10", "centimetro": "10", "in": "25.4", "inch": "25.4", "inche": "25.4", '"': "25.4",
        "pouce": "25.4", "po": "25.4", "pulgada": "25.4", "pulg": "25.4",
    },
    "g": {
        "g": "1", "gr": "1", "gm": "1", "gram": "1", "gramme": "1", "gramo": "1", "mg": "0.001",
        "milligram": "0.001", "milligramme": "0.001", "miligramo": "0.001", "oz": "28.349523125",
        "ounce": "28.349523125", "once": "28.349523125", "onza": "28.349523125",
    },
    "m": {
        "m": "1", "metre": "1", "meter": "1", "metro": "1", "m asl": "1", "masl": "1", "msnm": "1",
        "km": "1000", "kilometre": "1000", "kilometer": "1000", "kilometro": "1000", "ft": "0.3048",
        "foot": "0.3048", "feet": "0.3048", "pied": "0.3048", "pie": "0.3048", "'": "0.3048",
        "yd": "0.9144", "yard": "0.9144",
    },
    "": dict.fromkeys((
        "butterfly", "butterflie", "monarch", "papillon", "monarque", "mariposa", "monarca", "individual", "individu",
        "individuo", "ind", "specimen",
    ), "1"),
}  # fmt: skip
_NUMBER = r"[-+]?(?:\d(?:[.,]\d+)?e[-+]\d\d?|\d+(?:[.,]\d*)?|[.,]\d+)"
_MEASURE = re.compile(rf"(?P<number>{_NUMBER})\s*(?P<unit>[a-z'\"][a-z' \"]*?)?\s*\.?", re.ASCII)
_ABOUT = re.compile(
    r"(?:[~≈<>≤≥±+?]+=?|(?:c|ca|circa|about|approx|approximately|around|at least|at most|over|under|up to"
    r"|(?:more|less|fewer) than|almost|nearly|est|estimated|min|minimum|max|maximum|env|environ|au moins|au plus"
    r"|plus de|moins de|presque|jusqu'a|unos|aprox|aproximadamente|al menos|por lo menos|como maximo|mas de|menos de"
    r"|casi|hasta)\b\.?)\s*"
)
_NOTE = re.compile(r"\s*\([^()]*[^\W\d][^()]*\)$")  # words in brackets behind the number
_DOUBT_AFTER = re.compile(
    r"\s*(?:\(\s*\?\s*\)|\?+|\++|\*+|(?<=\d)ish"
    r"|(?:approx|approximately|about|est|estimated|or so|or more|environ|env|ou plus|aprox|o mas|mas o menos)\b\.?)\s*$"
)
_GROUPED = re.compile(r"[-+]?[1-9]\d{0,2}(?:(?:,\d{3})+(?=\.)|(?:\.\d{3})+(?=,))")  # "1,234.5" or "1.234,5"
_WITH_THOUSANDS = re.compile(r"[-+]?[1-9]\d{0,2},\d{3}(?=\s*(?:[a-z'\"][a-z' .\"]*)?$)", re.ASCII)
_BLANK_IN_NUMBER = re.compile(r"(?<=\d)[\u00a0\u2009\u202f](?=\d{3}(?:\D|$))")  # French groups of thousands
_MARKS = str.maketrans({"”": '"', "″": '"', "’": "'", "′": "'"})  # of inches and feet, as telephones write them
_MIDDLE_POINT = re.compile(r"(?<=\d)·(?=\d)")  # as a decimal point was printed once
_DAY = re.compile(r"(\d{4})-(\d\d)-(\d\d)", re.ASCII)
_NO_PART = re.compile(r"\.0+$")  # a count of 3.0, as some programs write it
_LONGEST = 60
_SEVERAL = re.compile(r"\d[^\d]*(?:\s|[-/;&+(x]|\bor\b|\bou\b|\band\b|\by\b|\bto\b)[^\d]*\d")


def read(text: str, kind: str, unit: str = "") -> Reading:
    """A number in the unit asked for (mm, g, m, or "" for none), as a plain decimal.

    >>> read("51.5", "n", "mm")
    Reading(value='51.5', change='', doubt='', candidates=())
    >>> read("51,5 mm", "t", "mm")
    Reading(value='51.5', change='a plain number of mm', doubt='', candidates=())
    >>> read("5.2 cm", "t", "mm")
    Reading(value='52', change='given in mm', doubt='', candidates=())
    >>> read(">50", "t", "mm")
    Reading(value='>50', change='', doubt='approximate', candidates=('50',))
    >>> read("51 or 52", "t", "mm").doubt, read("1,234", "t").doubt
    ('two-values', 'two-values')
    >>> read("big", "t", "mm").doubt, read("51 kg", "t", "mm").doubt, read("2026-05-06", "d").doubt
    ('not-a-number', 'not-a-number', 'not-a-number')
    >>> read("n/a", "t", "mm")
    Reading(value='', change='a word for nothing', doubt='', candidates=())
    >>> read("none", "t").doubt  # of a count it may well mean 0
    'not-a-number'
    """
    typed = text.strip()
    if not typed or (is_blank_word(typed) and (unit or not _may_mean_zero(typed))):
        return Reading("", "a word for nothing" if typed else "")
    if kind not in "tn" or len(typed) > _LONGEST:
        return Reading(typed, doubt="not-a-number")
    folded = _plain_figures(typed)
    if _WITH_THOUSANDS.match(folded):
        both = (_number(folded.replace(",", by), unit)[0] for by in (".", ""))
        return Reading(typed, doubt="two-values", candidates=tuple(filter(None, both)))
    value, change = _number(folded, unit)
    if value:
        return Reading(value, "" if value == typed else change)
    if _SEVERAL.search(folded):
        return Reading(typed, doubt="two-values")
    certain = _NOTE.sub("", _ABOUT.sub("", folded, count=1) if _ABOUT.match(folded) else folded)
    about, _ = _number(_DOUBT_AFTER.sub("", certain).strip(), unit)
    if about:
        return Reading(typed, doubt="approximate", candidates=(about,))
    return Reading(typed, doubt="not-a-number")


def _plain_figures(typed: str) -> str:
    """The text in small letters, its figures without blanks and without the signs that part thousands."""
    plain = _BLANK_IN_NUMBER.sub("", typed.translate(_MARKS)) if not typed.isascii() else typed
    folded = _MIDDLE_POINT.sub(".", fold(plain).removeprefix("'"))
    if grouped := _GROUPED.match(folded):
        folded = re.sub("[.,]", "", grouped[0]) + folded[grouped.end() :]
    return folded


def range_before_spreadsheet(day: str, season_year: int) -> str:
    """The range that a spreadsheet took for a day, the smaller number first; blank if the text is no day.

    >>> [range_before_spreadsheet(day, 2026) for day in ("2026-05-06", "2026-10-05", "2030-02-01", "soon")]
    ['5-6', '5-10', '2-30', '']
    """
    found = _DAY.match(day)
    if not found:
        return ""
    year, month, day_of_month = map(int, found.groups())
    is_year = day_of_month == 1 and (year > season_year or year < season_year - 26)  # "2-30" became February 2030
    numbers = sorted((month, year % 100 if is_year else day_of_month))
    return f"{numbers[0]}-{numbers[1]}"


def _may_mean_zero(typed: str) -> bool:
    return fold(typed) in ("none", "nil", "aucun", "aucune", "ninguno", "ninguna")


def _number(folded: str, unit: str) -> tuple[str, str]:
    found = _MEASURE.fullmatch(folded)
    if not found:
        return "", ""
    number = _plain(found["number"])
    if "e" in number:
        number = _shortest(Decimal(number))
    if not unit:
        number = _NO_PART.sub("", number)
    written = (found["unit"] or "").strip().replace("''", '"')
    if not written:
        return number, "a plain number"
    factor = _UNITS[unit].get(written) or _UNITS[unit].get(written.removesuffix("s"))
    if factor is None:
        return "", ""
    if factor == "1":
        return number, f"a plain number of {unit}".removesuffix(" of ")
    return _shortest(Decimal(number) * Decimal(factor)), f"given in {unit}"


def _plain(number: str) -> str:
    number = number.replace(",", ".").removeprefix("+").removesuffix(".")
    return re.sub(r"^(-?)\.", r"\g<1>0.", number)


def _shortest(number: Decimal) -> str:
    plain = f"{number:f}"
    return plain.rstrip("0").rstrip(".") if "." in plain else plain
