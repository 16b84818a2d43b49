"""The code printed on a tag."""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache

from pipeline.model import Reading
from pipeline.values.check_character import iso7064_mod11_2, iso7064_mod37_36
from pipeline.values.codes import Codes
from pipeline.values.tag_slips import as_spreadsheet_would, look_alikes, one_slip_away
from pipeline.values.tag_words import is_word_for_no_tag, old_codes, says_another_took_its_place
from pipeline.values.text import plain_digits

__all__ = ["as_spreadsheet_would", "codes_between", "look_alikes", "one_slip_away", "read"]

_CHECKS = {"iso7064-mod37-36": iso7064_mod37_36, "iso7064-mod11-2": iso7064_mod11_2}
_DASHES = re.compile(r"[-‐‑‒–—―−﹣_]")
_SPACES = re.compile(r"\s+")
_BETWEEN_CODES = re.compile(r"\s*(?:[,;/+&|\n]|\s-\s|\s(?:and|et|y|e|to|au|al?)\s)\s*", re.IGNORECASE)
_POWER = re.compile(r"\d(?:[.,]\d*)?E[+-]?\d+", re.IGNORECASE)
_DAY = re.compile(
    r"\d{1,2}-[A-Za-zéû]{3,4}\.?(?:-\d\d(?:\d\d)?)?|[A-Za-zéû]{3,4}\.?-\d\d|\d{4}-\d\d-\d\d|\d+/\d+/\d{2,4}"
)
_UNSEEN = re.compile("[\u00ad\u200b-\u200f\u2060\ufeff]")
_RANGE = re.compile(
    r"\s*(?P<first>\S+?)\s*(?:-|–|—|…|\.{2,}|\b(?:to|through|au|à|al?|hasta)\b)\s*(?P<last>\S+?)(?:[,;:\s(].*)?",
    re.IGNORECASE,
)
_WORD = re.compile(r"[^\s,;:/()\"'#*?.“”‘’«»>→=]+(?:[- ][0-9]+)?")
_SIGNS = re.compile(r"[\W_]+")
_MOST_IN_RANGE = 500
_LONGEST = 300


def read(text: str, kind: str, pattern: str, check_character: str = "none") -> Reading:
    """A tag code of the programme's pattern; only blanks, dashes, case and full-width signs are changed.

    >>> shape = "[A-Z]{2}[0-9]{4}"
    >>> read("SM0042", "t", shape)
    Reading(value='SM0042', change='', doubt='', candidates=())
    >>> read(" sm-0042 ", "t", shape)
    Reading(value='SM0042', change='blanks, dashes or small letters', doubt='', candidates=())
    >>> read("SM 0042 / SM 0043", "t", shape)
    Reading(value='SM 0042 / SM 0043', change='', doubt='several-codes', candidates=('SM0042', 'SM0043'))
    >>> read("SM042", "t", shape).doubt, read("lost", "t", shape).doubt, read("?", "t", shape).doubt
    ('another-shape', 'not-a-code', 'not-a-code')
    >>> read("2026-09-02", "d", shape).doubt, read("42", "n", shape).doubt, read("1E+42", "t", shape).doubt
    ('became-a-day', 'became-a-number', 'became-a-number')
    >>> read("SM0101-SM0125, 12 M 13 F", "t", shape)[2:], read("SM0101-05", "t", shape)[2:]
    (('range-of-codes', ('SM0101', 'SM0125')), ('range-of-codes', ('SM0101', 'SM0105')))
    >>> read("SM0101 fell off, now SM0102", "t", shape)[2:], read("#SM0101 (torn)", "t", shape)[2:]
    (('re-tagged', ('SM0102',)), ('another-shape', ('SM0101',)))
    >>> read("0794-0", "t", "[0-9]{4}", "iso7064-mod11-2")
    Reading(value='0794', change='check character left off', doubt='', candidates=())
    >>> read("07941", "t", "[0-9]{4}", "iso7064-mod11-2").doubt
    'check-character'
    """
    typed = text.strip()
    if not typed:
        return Reading("")
    if kind == "d":
        return Reading(typed, doubt="became-a-day")
    has_digits = any(sign.isdigit() for sign in typed)
    shape = _compiled(pattern)
    if kind not in "tn" or (not has_digits and is_word_for_no_tag(typed) and not shape.fullmatch(typed)):
        return Reading(typed, doubt="not-a-code")
    if check_character in _CHECKS:
        return _with_check(typed, kind, shape, check_character)
    if code := _fitting(typed, shape):
        return Reading(code, "" if code == typed else "blanks, dashes or small letters")
    return _doubted(typed, kind, shape)


@lru_cache(maxsize=32)
def _compiled(pattern: str) -> re.Pattern[str]:
    return re.compile(pattern)


def _spellings(typed: str) -> tuple[str, ...]:
    """As typed, then with ever more of what does not matter taken away."""
    plain = typed
    if not typed.isascii():
        if any(unicodedata.category(sign) == "No" for sign in typed):
            return (typed,)  # a small figure set high is a mark at a note, and none of the code's
        plain = plain_digits(unicodedata.normalize("NFKC", _UNSEEN.sub("", typed)))
    close = _SPACES.sub("", _DASHES.sub("-", plain))
    bare = close.replace("-", "")
    return (typed, plain, close, close.upper(), bare, bare.upper(), bare.lower())


def _fitting(typed: str, shape: re.Pattern[str]) -> str:
    return next((spelling for spelling in _spellings(typed) if shape.fullmatch(spelling)), "")


def _with_check(typed: str, kind: str, shape: re.Pattern[str], check_character: str) -> Reading:
    looked_like_a_code = ""
    for spelling in _spellings(typed):
        code, check = spelling[:-1], spelling[-1:]
        if shape.fullmatch(code):
            looked_like_a_code = code
            if _check_of(code, check_character) == check.upper():
                return Reading(code, "check character left off")
    if not looked_like_a_code:
        looked_like_a_code = _fitting(typed, shape)
    if looked_like_a_code:
        return Reading(typed, doubt="check-character", candidates=(looked_like_a_code,))
    return _doubted(typed, kind, shape)


def _check_of(code: str, check_character: str) -> str:
    try:
        return _CHECKS[check_character](code.upper())
    except ValueError:  # a sign that the system does not know, such as a dash
        return ""


def _doubted(typed: str, kind: str, shape: re.Pattern[str]) -> Reading:
    if kind == "n" or _POWER.fullmatch(typed):
        return Reading(typed, doubt="became-a-number")
    if _DAY.fullmatch(typed):
        return Reading(typed, doubt="became-a-day")
    cut = typed[:_LONGEST]
    if ends := _range(cut, shape):
        return Reading(typed, doubt="range-of-codes", candidates=ends)
    inside = _inside(cut, shape)
    if says_another_took_its_place(cut, len(inside)):
        return Reading(typed, doubt="re-tagged", candidates=_left_on(cut, inside, shape))
    if len(codes := _side_by_side(cut, shape)) > 1:
        return Reading(typed, doubt="several-codes", candidates=codes)
    if not any(sign.isdigit() for sign in typed):
        return Reading(typed, doubt="not-a-code")
    if not inside and typed == cut and (bare := _fitting(_SIGNS.sub("", typed), shape)):
        inside = (bare,)
    return Reading(typed, doubt="another-shape", candidates=inside if len(inside) == 1 else ())


def _left_on(typed: str, inside: tuple[str, ...], shape: re.Pattern[str]) -> tuple[str, ...]:
    """Of the codes of a cell the one that its butterfly carries now: the last that is not said to be the old one."""
    old = {_fitting(word, shape) for told in old_codes(typed) for word in _WORD.findall(told)}
    return tuple(code for code in inside if code not in old)[-1:]


def _side_by_side(typed: str, shape: re.Pattern[str]) -> tuple[str, ...]:
    """The codes that signs or blanks part; a later one may leave off what it shares with the first."""
    codes: dict[str, None] = {}
    for part in filter(None, _BETWEEN_CODES.split(typed)):
        first = next(iter(codes), "")
        is_end = part.isdecimal() and 1 < len(part) < len(first)
        whole = _fitting(first[: -len(part)] + part if is_end else part, shape)
        found = [whole] if whole else [_fitting(word, shape) for word in part.split()]
        if all(found):
            codes |= dict.fromkeys(found)
    return tuple(codes)


def _range(typed: str, shape: re.Pattern[str]) -> tuple[str, str] | tuple[()]:
    """The first and the last code of a range, `SM0101-SM0125` or `SM0101-25`; nothing if it is none."""
    found = _RANGE.fullmatch(typed)
    first = _fitting(found["first"], shape) if found else ""
    if not found or not first:
        return ()
    last = found["last"]
    if last.isdecimal() and len(last) < len(first):
        last = first[: -len(last)] + last
    last = _fitting(last, shape)
    try:
        return (first, last) if last and 1 < len(codes_between(first, last)) <= _MOST_IN_RANGE else ()
    except ValueError:
        return ()


def _inside(typed: str, shape: re.Pattern[str]) -> tuple[str, ...]:
    """The codes that stand among other words or signs."""
    words = (_fitting(word, shape) for word in _WORD.findall(typed))
    return tuple(dict.fromkeys(code for code in words if code))


def codes_between(first: str, last: str) -> Codes:
    """Every code of a range; the last run of digits counts up, and ValueError if the two make no range.

    >>> list(codes_between("SM0098", "SM0101"))
    ['SM0098', 'SM0099', 'SM0100', 'SM0101']
    >>> list(codes_between("7A0001", "7A0002"))
    ['7A0001', '7A0002']
    """
    return Codes(first, last)
