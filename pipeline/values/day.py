"""A day, a month, a year or a span of days, never read more precisely than it was written."""

from __future__ import annotations

import re

from pipeline.model import Reading
from pipeline.values.clock import without_time
from pipeline.values.day_doubt import either, without_doubt
from pipeline.values.day_number import days_of_number
from pipeline.values.day_shapes import Written, are_neighbours, day_shape, iso
from pipeline.values.month_names import MONTH_OF_WORD, WEEKDAY_OF_WORD
from pipeline.values.text import fold, is_blank_word

_STORED = re.compile(r"(\d{4}-\d\d-\d\d)(?:[T ].*)?", re.ASCII)
_SERIAL = re.compile(r"(\d{5})(?:\.\d+)?", re.ASCII)
_WHOLE = re.compile(r"\d{4}|\d{5}(?:\.\d+)?|\d{8}", re.ASCII)
_LONGEST = 80
_LATER_PART = re.compile(r"\s+-\s+|\s*(?:\.{2,}|\b(?:to|through|thru|until|till|au|al?|hasta|jusqu'au)\b)\s*")
_BETWEEN = re.compile(r"(?:between|entre)\s(.+)\s(?:and|et|y|e)\s(.+)")
_WORDS = re.compile(r"[a-z]+")
_YEARS_BESIDE_SEASON = 1  # a two-digit year further off may be a day, if another number is a likely year
_YEARS_OF_DOUBT = 10
_YEARS_OF_RECORDS = 200  # four figures further off are no year of ours


def read(text: str, kind: str = "t", order: str = "ask", season_year: int = 2026) -> Reading:
    """A day in ISO 8601; `order` (day-first, month-first, ask) settles what the text leaves open.

    >>> read("2026-09-03")
    Reading(value='2026-09-03', change='', doubt='', candidates=())
    >>> read("25/9/26").value, read("9/25/26").value, read("3-Sep-26").value, read("14-IX-2026").value
    ('2026-09-25', '2026-09-25', '2026-09-03', '2026-09-14')
    >>> read("le 1er septembre 2026").value, read("Sept 2026").value, read("3-5 Sept 2026").value
    ('2026-09-01', '2026-09', '2026-09-03/2026-09-05')
    >>> read("3/9/2026")
    Reading(value='3/9/2026', change='', doubt='two-readings', candidates=('2026-09-03', '2026-03-09'))
    >>> read("3/9/2026", order="day-first")
    Reading(value='2026-09-03', change='written year-month-day', doubt='', candidates=())
    >>> read("31/9/2026").doubt, read("soon").doubt
    ('not-in-calendar', 'not-a-day')
    >>> read("3 Sept")
    Reading(value='3 Sept', change='', doubt='no-year', candidates=('2026-09-03',))
    >>> read("2026-09-03T14:05", "d")
    Reading(value='2026-09-03', change='the day of a date with a time', doubt='', candidates=())
    >>> read("46268", "n")  # days are counted from 1900, on some computers from 1904
    Reading(value='46268', change='', doubt='number-of-a-day', candidates=('2026-09-03', '2030-09-04'))
    >>> read("3 Sept 2026?")[2:], read("~3/9/2026").doubt
    (('unsure', ('2026-09-03',)), 'not-a-day')
    >>> read("unknown")
    Reading(value='', change='a word for nothing', doubt='', candidates=())
    """
    typed = text.strip()
    if not typed or is_blank_word(typed):
        return Reading("", "a word for nothing" if typed else "")
    if kind == "d" and (stored := _STORED.fullmatch(typed)):
        return _day_of_date(typed, stored[1], season_year)
    if kind not in "tnd" or (kind == "n" and not _WHOLE.fullmatch(typed)):
        return Reading(typed, doubt="not-a-day")
    if serial := _SERIAL.fullmatch(typed):
        near = days_of_number(int(serial[1]), season_year)
        return Reading(typed, doubt="number-of-a-day" if near else "not-a-day", candidates=near)
    written = _written(typed)
    return _settled(typed, written, order, season_year) if written else _unsure(typed, order, season_year)


def order_shown(text: str, season_year: int = 2026) -> str:
    """What one date proves about the order of its column: day-first, month-first or nothing.

    >>> [order_shown(text) for text in ("25/9/2026", "9/25/2026", "3/9/2026", "3 Sept 2026")]
    ['day-first', 'month-first', '', '']
    """
    written = _written(text.strip())
    if not written or _year_first(written, season_year) or _may_end_in_its_year(written, season_year):
        return ""
    day_first, month_first = _both(written, season_year)
    if bool(day_first) == bool(month_first) or not any(end.has_number_over_12 for end in written):
        return ""
    return "day-first" if day_first else "month-first"


def weekday_written(text: str) -> str:
    """The weekday that stands beside a day, in English.

    >>> [weekday_written(text) for text in ("Thu 3 Sept 2026", "jeudi 3 septembre", "3 mar 2026")]
    ['Thursday', 'Thursday', '']
    """
    folded = fold(text)
    found = {WEEKDAY_OF_WORD[word] for word in _weekdays(folded)}
    return found.pop() if len(found) == 1 else ""


def _day_of_date(typed: str, day: str, season_year: int) -> Reading:
    """The day of a true date; what no calendar has or is of another age is in as much doubt as in a text."""
    reading = read(day, "t", season_year=season_year)
    if reading.doubt:
        return reading._replace(value=typed)
    return reading._replace(change=reading.change or ("" if day == typed else "the day of a date with a time"))


def _weekdays(folded: str) -> list[str]:
    words = [word for word in _WORDS.findall(folded) if word in WEEKDAY_OF_WORD]
    # "mar" is Tuesday in French and Spanish, and March in all three languages.
    if "mar" in words:
        has_month = any(word in MONTH_OF_WORD and word != "mar" for word in _WORDS.findall(folded))
        if not has_month and len(re.findall(r"\d+", folded)) < 3:
            words.remove("mar")
    return words


def _written(typed: str) -> tuple[Written, ...]:
    """One day or the two ends of a span as they were written; nothing if it is neither."""
    folded = fold(typed)
    if len(folded) > _LONGEST:
        return ()
    for word in _weekdays(folded):
        folded = re.sub(rf"\b{word}\b\.?,?", " ", folded, count=1)
    folded = without_time(folded).strip(" ,;()[]")
    if whole := day_shape(folded):
        return (whole,)
    return _span(folded)


def _span(folded: str) -> tuple[Written, ...]:
    if between := _BETWEEN.fullmatch(folded):
        return _ends(between[1], between[2])
    if len(parts := _LATER_PART.split(re.sub(r"^(?:from|du|del|de|entre)\s", "", folded))) == 2:
        return _ends(*parts)
    if folded.count("/") == 1:
        first, last = folded.split("/")
        is_iso = bool(re.match(r"\d{4}", first))
        return _ends(first, last) if is_iso or (day_shape(first) and day_shape(last)) else ()
    return _ends(*folded.split("-")) if folded.count("-") == 1 else ()


def _ends(first: str, last: str) -> tuple[Written, ...]:
    """The two ends, each filled up with what only the other says."""
    one, two = day_shape(first, is_part=True), day_shape(last, is_part=True)
    if not one or not two:
        return ()
    ends = one.filled_from(two), two.filled_from(one)
    return ends if all(end.is_whole for end in ends) and ends[0].roles == ends[1].roles else ()


def _both(written: tuple[Written, ...], season_year: int) -> tuple[str, str]:
    """ISO text read day-first and month-first, "" where the calendar has no such day."""
    return _in_order(written, False, season_year), _in_order(written, True, season_year)


def _in_order(written: tuple[Written, ...], month_first: bool, season_year: int) -> str:
    ends = [iso(end, month_first, season_year) for end in written]
    return "/".join(ends) if all(ends) and ends == sorted(ends) else ""


def _year_first(written: tuple[Written, ...], season_year: int) -> str:
    """The reading of "26-09-03" that begins with the year, unless its end is as good as the season's year."""
    turned = written[0].turned() if len(written) == 1 else None
    if not turned:
        return ""
    years_off = [abs(end.full_year(season_year) - season_year) for end in (turned, written[0])]
    is_open = years_off[0] <= _YEARS_OF_DOUBT and years_off[1] > _YEARS_BESIDE_SEASON
    return iso(turned, False, season_year) if is_open else ""


def _may_end_in_its_year(written: tuple[Written, ...], season_year: int) -> bool:
    """A text such as 9/26 without a year may be a month and its year."""
    return len(written) == 1 and not written[0].has_year and written[0].ends_in(season_year % 100)


def _settled(typed: str, written: tuple[Written, ...], order: str, season_year: int) -> Reading:
    day_first, month_first = _both(written, season_year)
    if order in ("day-first", "month-first") and day_first and month_first:
        day_first = month_first = day_first if order == "day-first" else month_first
    readings = dict.fromkeys((day_first, month_first, _year_first(written, season_year)))
    found = tuple(reading for reading in readings if reading)
    if not found:
        return Reading(typed, doubt="not-in-calendar")
    if any(abs(int(reading[:4]) - season_year) > _YEARS_OF_RECORDS for reading in found):
        return Reading(typed, doubt="not-a-day")
    if not written[0].has_year:
        is_month = re.search(rf"[-/'’]{season_year % 100:02}$", typed) and len(written) == len(found) == 1
        return Reading(typed, doubt="no-year", candidates=(*found, found[0][:7]) if is_month else found)
    if len(found) > 1:
        return Reading(typed, doubt="two-readings", candidates=found)
    return Reading(found[0], "" if found[0] == typed else "written year-month-day")


def _unsure(typed: str, order: str, season_year: int) -> Reading:
    """A day with a sign that its writer was not sure of it."""
    folded = fold(typed)
    plain = without_doubt(folded)
    written = _written(plain) if plain != folded else ()
    two = either(folded) if not written and len(folded) <= _LONGEST else []
    if two:
        written = _ends(*two)
    settled = _settled(typed, written, order, season_year) if written else Reading("", doubt="not-a-day")
    if settled.doubt or (two and not are_neighbours(settled.value)):
        return Reading(typed, doubt="not-a-day")
    return Reading(typed, doubt="unsure", candidates=(settled.value,))
