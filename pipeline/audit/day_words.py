"""Days written in words or in the shapes of many lands, read only where they can be read in one way."""

from __future__ import annotations

import re
from collections.abc import Iterator

from pipeline.audit.iso_date import DAY
from pipeline.audit.iso_day import IsoDay, iso_day
from pipeline.values.day_shapes import Written, day_shape, iso
from pipeline.values.month_names import MONTH_OF_WORD, WEEKDAY_OF_WORD
from pipeline.values.text import fold

_LONGEST = 60
_YEARS = range(1500, 2100)  # figures without any sign between them are taken for a year in these only
_DECADE = re.compile(r"(\d{2}[1-9])0'?s", re.ASCII)  # 1900s may be ten years or a hundred
_NOT_KNOWN = re.compile(r"(\d{4}(?:-\d\d)?)(?:-(?:xx|uu|\?\?))+", re.ASCII)
_WHOLE_WRITING = re.compile(r"(?:[a-z\d]|\?\?).*[a-z\d.]", re.ASCII)  # 2025- may be the first year of several
_LETTER_FOR_ZERO = re.compile(r"\do", re.ASCII)
_TIME = re.compile(
    r"(?P<day>.*?[a-z\d.])(?:,?\s+(?:at\s+)?|t)(?P<hour>\d{1,2})(?P<rest>:\d\d(?::\d\d(?:\.\d+)?)?)"
    r"\s?(?P<half>[ap]\.?m\.?)?\s?(?P<zone>z|[+-]\d\d:?\d\d)?",
    re.ASCII,
)
_YEAR_AND_NUMBER = re.compile(r"(\d{4})\s?[/-]\s?(\d{1,2})", re.ASCII)
_FROM = re.compile(r"^(?:from|du|del)\s+")
_TO = re.compile(r"\s+-\s+|\s*(?:\.{2,}|\b(?:to|through|thru|until|till|au|al?|hasta)\b)\s*")
_DAYS_OF_WEEK = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
_WORD = re.compile("[a-z]+")
_BETWEEN_FIGURES = re.compile(r"\s*[./-]\s*|\s+")
_YEAR_FIRST = re.compile(r"\d{4}", re.ASCII)


def iso_meant(written: str) -> str:
    """ISO 8601 for a written day, month, year or span that has one reading, no more precise; else nothing.

    >>> [iso_meant(text) for text in ("2021-28-10", "2021/10/28", "Friday 29th Oct. 2021", "18/V/1981", "xi.1996")]
    ['2021-10-28', '2021-10-28', '2021-10-29', '1981-05-18', '1996-11']
    >>> [iso_meant(text) for text in ("3 au 5 août 2025", "2025-08-09 14:05", "8/25/2025 2:05 pm", "1980s")]
    ['2025-08-03/2025-08-05', '2025-08-09T14:05', '2025-08-25T14:05', '1980-01-01/1989-12-31']
    >>> [iso_meant(text) for text in ("03/04/2020", "21-10-28", "10-28", "1911/12", "1900s", "Monday 29 Oct 2021")]
    ['', '', '', '', '', '']
    """
    folded = fold(written)
    if len(folded) > _LONGEST or _LETTER_FOR_ZERO.search(written.lower()):
        return ""
    if folded.isdigit():
        return _of_figures(folded)
    if nearly := _nearly_iso(folded):
        return nearly
    if decade := _DECADE.fullmatch(folded):
        return f"{decade[1]}0-01-01/{decade[1]}9-12-31"
    if not _WHOLE_WRITING.fullmatch(folded):
        return ""
    if timed := _TIME.fullmatch(folded):
        return _with_time(timed)
    return _day(folded)


def _of_figures(figures: str) -> str:
    if len(figures) not in (4, 8) or int(figures[:4]) not in _YEARS or not iso_day(figures):
        return ""
    return "-".join(part for part in (figures[:4], figures[4:6], figures[6:]) if part)


def _nearly_iso(folded: str) -> str:
    """What is ISO 8601 but for small letters, blanks and unknown parts at its end."""
    if known := _NOT_KNOWN.fullmatch(folded):
        return known[1] if iso_day(known[1]) else ""
    closed = re.sub(r"\s*/\s*", "/", folded).upper()
    joined = re.sub(r"(?<=\d),?\s+(?=\d\d:\d\d)", "T", closed)
    joined = re.sub(r"(?<=\d)\s+(?=(?:[+-]\d\d:?\d\d|Z)(?:/|$))", "", joined)
    return joined if iso_day(joined) else ""


def _with_time(timed: re.Match[str]) -> str:
    hour, half = int(timed["hour"]), (timed["half"] or "")[:1]
    if half:
        if not 1 <= hour <= 12:
            return ""
        hour = hour % 12 + (12 if half == "p" else 0)
    text = f"{_day(timed['day'])}T{hour:02}{timed['rest']}{(timed['zone'] or '').upper()}"
    return text if iso_day(text) else ""


def _day(folded: str) -> str:
    weekdays = [word for word in _WORD.findall(folded) if word in WEEKDAY_OF_WORD and word not in MONTH_OF_WORD]
    for word in weekdays:
        folded = re.sub(rf"\b{word}\b[.,]?", " ", folded, count=1)
    for ends in _written(folded.strip(" ,")):
        readings = {reading for month_first in (False, True) if (reading := _in_order(ends, month_first))}
        if readings:
            reading = readings.pop()
            found = None if readings else iso_day(reading)
            return reading if found and _has_weekdays(found, weekdays) else ""
    return ""


def _written(folded: str) -> Iterator[tuple[Written, ...]]:
    """One day or the two ends of a span, in every way in which the text can be taken apart."""
    if _may_be_years(folded):
        return
    if (whole := day_shape(folded)) and not _has_mixed_signs(folded):
        yield (whole,)
    for parts in (_TO.split(_FROM.sub("", folded)), folded.split("-")):
        if len(parts) == 2:
            yield from _ends(parts, (True, False))
    if folded.count("/") == 1:
        yield from _ends(folded.split("/"), (False,))


def _may_be_years(folded: str) -> bool:
    """Whether a number after a year may be the end of a later one, as in 1911/12."""
    found = _YEAR_AND_NUMBER.fullmatch(folded)
    return found is not None and int(found[2]) > int(found[1][-len(found[2]) :])


def _has_mixed_signs(folded: str) -> bool:
    """Figures with a hyphen here and a stroke there may be a span, and 2025 1/2 has no order."""
    signs = {sign.strip() for sign in _BETWEEN_FIGURES.findall(folded)}
    if not _YEAR_FIRST.match(folded):
        signs.discard("")
    return len(signs) > 1 and not _WORD.search(folded)


def _ends(parts: list[str], can_be_parts: tuple[bool, ...]) -> Iterator[tuple[Written, ...]]:
    if any(_has_mixed_signs(part) or _may_be_years(part) for part in parts):
        return
    for is_part in can_be_parts:
        one, two = (day_shape(part.strip(), is_part) for part in parts)
        if not one or not two:
            continue
        ends = one.filled_from(two), two.filled_from(one)
        if all(end.is_whole for end in ends) and ends[0].roles == ends[1].roles:
            yield ends


def _in_order(ends: tuple[Written, ...], month_first: bool) -> str:
    days = [iso(end, month_first, 0) if len(end.year) == 4 else "" for end in ends]
    return "/".join(days) if all(days) else ""


def _has_weekdays(found: IsoDay, weekdays: list[str]) -> bool:
    """Whether the days fall on the weekdays that stand beside them."""
    if not weekdays:
        return True
    ends = [found.first] if found.first == found.last else [found.first, found.last]
    on = [_DAYS_OF_WEEK[day.weekday() - 1] for day in ends]
    return found.precision == DAY and on == [WEEKDAY_OF_WORD[word] for word in weekdays]
