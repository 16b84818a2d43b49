"""How the code of a tag is mistaken by people and by spreadsheets."""

from __future__ import annotations

import datetime
import re
from collections.abc import Collection
from functools import lru_cache
from itertools import product

from rapidfuzz.distance import OSA

from pipeline.values import day
from pipeline.values.month_names import MONTH_OF_WORD
from pipeline.values.text import plain_digits

_LOOK_ALIKE = {sign: group for group in ("0OQ", "1IL", "2Z", "5S", "6G", "8B") for sign in group}
# Letters that look like ours: Cyrillic, then Greek (Unicode Technical Standard 39, from memory).
_OF_OTHER_ALPHABETS = str.maketrans("АВЕКМНОРСТУХІЈЅΑΒΕΖΗΙΚΜΝΟΡΤΥΧ|", "ABEKMHOPCTYXIJSABEZHIKMNOPTYXI")
_ONLY_DIGITS = re.compile(r"[\W_]*(\d+)[\W_]*")
_MOST_LOOK_ALIKES = 10  # a longer code has too many spellings to be told from another
_LONGEST = 40  # signs; what is longer is no code of a tag
_LONGEST_POWER = 308  # of ten, that a spreadsheet can hold
_WORD_AND_NUMBER = re.compile(r"([A-Z]{3,})[- /]?(\d{1,4})|(\d{1,2})[- /]?([A-Z]{3,})")
_TWO_NUMBERS = re.compile(r"(\d{1,2})[-/](\d{1,2})(?:[-/](\d\d|\d{4}))?")


def look_alikes(code: str) -> set[str]:
    """Every code reached by exchanging signs that look alike: O 0, I l 1, S 5, B 8 ..., letters of other alphabets.

    >>> sorted(look_alikes("A50"))
    ['A5O', 'A5Q', 'AS0', 'ASO', 'ASQ']
    >>> "SM0101" in look_alikes("SM0l01"), "SM0101" in look_alikes("S\u041c0101")  # a Cyrillic letter
    (True, True)
    """
    choices = [_LOOK_ALIKE.get(sign, sign) for sign in code.upper().translate(_OF_OTHER_ALPHABETS)]
    if sum(len(group) > 1 for group in choices) > _MOST_LOOK_ALIKES:
        return set()
    return {"".join(signs) for signs in product(*choices)} - {code}


def one_slip_away(code: str, codes: Collection[str]) -> set[str]:
    """Those of the codes that one wrong, missing, added or exchanged sign makes of it.

    >>> sorted(one_slip_away("SM0042", {"SM0042", "SM0043", "SM042", "MS0042", "SM1142"}))
    ['MS0042', 'SM0043', 'SM042']
    """
    return {other for other in codes if OSA.distance(code, other, score_cutoff=1) == 1}


def ends_so(text: str, codes: Collection[str]) -> set[str]:
    """Those of the codes that end in the digits of a text which holds nothing else.

    >>> ends_so("0042", {"SM0042", "SM0142"}), sorted(ends_so("#42", {"SM0042", "SM0142"})), ends_so("M42", {"SM42"})
    ({'SM0042'}, ['SM0042', 'SM0142'], set())
    """
    found = _ONLY_DIGITS.fullmatch(text)
    return {code for code in codes if code.endswith(plain_digits(found[1]))} if found else set()


def before_spreadsheet(kind: str, text: str, codes: Collection[str]) -> set[str]:
    """Those of the codes that a spreadsheet would have turned into this cell, or would show so in a text file.

    >>> before_spreadsheet("d", "2026-12-12", {"DEC12", "DEC13"}), before_spreadsheet("t", "12-Dec", {"DEC12", "DEC13"})
    ({'DEC12'}, {'DEC12'})
    """
    cells = {(kind, text)}
    year = 2026  # of no consequence for numbers; a date's is the one in which it was typed
    if kind == "d":
        year = int(text[:4]) if text[:4].isdecimal() else year
    elif not text.isdecimal():
        cells |= _days_shown(text, year)
    return {code for code in codes if not cells.isdisjoint(_cells_of(code, year))}


@lru_cache(maxsize=4096)
def _cells_of(code: str, year: int) -> frozenset[tuple[str, str]]:
    return frozenset(as_spreadsheet_would(code, year))


def _days_shown(text: str, year: int) -> set[tuple[str, str]]:
    """The days that a text such as 12-Dec or Sep-50 shows."""
    reading = day.read(text, "t", "ask", year)
    days = (reading.value, *reading.candidates) if reading.doubt != "number-of-a-day" else ()
    return {("d", found if len(found) == 10 else f"{found}-01") for found in days}


def as_spreadsheet_would(code: str, year: int = 2026) -> set[tuple[str, str]]:
    """(kind, text) of the cells that a spreadsheet may make of a code typed into it in that year.

    >>> as_spreadsheet_would("00123"), as_spreadsheet_would("SEP02"), as_spreadsheet_would("SM0042")
    ({('n', '123')}, {('d', '2026-09-02')}, set())
    >>> sorted(as_spreadsheet_would("5-6"))
    [('d', '2026-05-06'), ('d', '2026-06-05')]
    >>> sorted(as_spreadsheet_would("1E0003"))
    [('n', '1000'), ('t', '1.00E+03'), ('t', '1E+03')]
    """
    code = code.upper()
    if len(code) > _LONGEST or not code.isascii():
        return set()
    if code.isdigit():
        return _as_number(code) - {("n", code)}
    if re.fullmatch(r"\d+E\d+", code):
        return _as_power(*code.split("E"))
    if found := _WORD_AND_NUMBER.fullmatch(code):
        word, number = (found[1] or found[4]).lower(), found[2] or found[3]
        return _as_day_of_month(0 if set(word) <= set("ivx") else MONTH_OF_WORD.get(word, 0), number, year)
    if numbers := _TWO_NUMBERS.fullmatch(code):
        written_year = int(numbers[3] or year)
        full = written_year + 2000 if written_year < 100 else written_year
        one, two = int(numbers[1]), int(numbers[2])
        return _day(full, one, two) | _day(full, two, one)
    return set()


def _as_number(digits: str) -> set[tuple[str, str]]:
    number = digits.lstrip("0") or "0"
    if len(number) <= 15:
        return {("n", number)}
    kept = number[:15] + "0" * (len(number) - 15)  # only 15 digits are kept
    return {("n", kept), ("t", f"{float(digits):.2E}"), ("t", f"{float(digits):.5E}")}


def _as_power(digits: str, power: str) -> set[tuple[str, str]]:
    if int(power) + len(digits) > _LONGEST_POWER:
        return set()
    number = float(f"{digits}E{power}")
    short, shorter = f"{number:.2E}", f"{number:.0E}"
    plain = str(int(digits) * 10 ** int(power))
    cells = {("n", plain), ("t", short), ("t", shorter)}
    return cells | ({("n", repr(number)), ("n", repr(number).upper())} if len(plain) > 15 else set())


def _as_day_of_month(month: int, number: str, year: int) -> set[tuple[str, str]]:
    if not month:
        return set()
    if len(number) == 4:
        return _day(int(number), month, 1)
    of_this_year = _day(year, month, int(number)) if len(number) <= 2 else set()
    if of_this_year or len(number) != 2:
        return of_this_year
    # A number that is no day is taken for a year: 30 to 99 for 1930 to 1999.
    return _day(int(number) + (1900 if int(number) >= 30 else 2000), month, 1)


def _day(year: int, month: int, day: int) -> set[tuple[str, str]]:
    try:
        return {("d", datetime.date(year, month, day).isoformat())}
    except ValueError:
        return set()
