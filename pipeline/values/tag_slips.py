"""How the code of a tag is mistaken by people and by spreadsheets."""

from __future__ import annotations

import datetime
import re
from collections.abc import Collection
from itertools import product

from rapidfuzz.distance import OSA

from pipeline.values.month_names import MONTH_OF_WORD

_LOOK_ALIKE = {sign: group for group in ("0OQ", "1IL", "2Z", "5S", "6G", "8B") for sign in group}
_MOST_LOOK_ALIKES = 10  # a longer code has too many spellings to be told from another
_LONGEST = 40  # signs; what is longer is no code of a tag
_LONGEST_POWER = 308  # of ten, that a spreadsheet can hold
_WORD_AND_NUMBER = re.compile(r"([A-Z]{3,})[- /]?(\d{1,4})|(\d{1,2})[- /]?([A-Z]{3,})")
_TWO_NUMBERS = re.compile(r"(\d{1,2})[-/](\d{1,2})(?:[-/](\d\d|\d{4}))?")


def look_alikes(code: str) -> set[str]:
    """Every code reached by exchanging letters and digits that look alike (O 0, I 1, S 5, B 8 ...).

    >>> sorted(look_alikes("A50"))
    ['A5O', 'A5Q', 'AS0', 'ASO', 'ASQ']
    """
    choices = [_LOOK_ALIKE.get(sign, sign) for sign in code]
    if sum(len(group) > 1 for group in choices) > _MOST_LOOK_ALIKES:
        return set()
    return {"".join(signs) for signs in product(*choices)} - {code}


def one_slip_away(code: str, codes: Collection[str]) -> set[str]:
    """Those of the codes that one wrong, missing, added or exchanged sign makes of it.

    >>> sorted(one_slip_away("SM0042", {"SM0042", "SM0043", "SM042", "MS0042", "SM1142"}))
    ['MS0042', 'SM0043', 'SM042']
    """
    return {other for other in codes if OSA.distance(code, other, score_cutoff=1) == 1}


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
