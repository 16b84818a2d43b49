"""A time of day, as the clock on the spot showed it."""

from __future__ import annotations

import re

from pipeline.model import Reading
from pipeline.values.text import fold, is_blank_word

_TIME = re.compile(
    r"(?P<hour>\d{1,2})(?:\s*(?P<sign>[:.]|h(?:rs?|eures?|oras?)?)\s*(?:(?P<minute>\d\d)"
    r"(?:\s*(?::|\.|m(?:in)?)\s*(?P<second>\d\d)s?|\s*m(?:in)?)?)?)?"
    r"\s*(?P<half>[ap]\.?\s?m\b\.?)?(?:\s*h(?:rs?)?)?",
    re.ASCII,
)
_PACKED = re.compile(r"(\d{1,2})(\d\d)(?:\s*(?:h|hrs?|([ap])\.?\s?m\.?))?", re.ASCII)
_WORDS = {"noon": "12:00", "midday": "12:00", "midi": "12:00", "mediodia": "12:00"}
_SPAN = re.compile(r"\s*(?:/|-|\b(?:to|until|till|a|al|hasta)\b)\s*")
_BETWEEN = re.compile(r"(?:between|entre)\s+(?:las? )?(.+?)\s+(?:and|et|y)\s+(?:las? )?(.+)")
_ABOUT = re.compile(
    r"^(?:[~≈?]|(?:c(?=\.)|ca|circa|(?:at )?about|around|approx|vers|environ|env|hacia(?: las?)?|aprox)\b\.?)\s*"
    r"|\s*(?:\(\s*(?:\?|(?:approx|env|aprox)\b\.?)\s*\)|\?+|\b(?:approx|environ|env|aprox)\b\.?)\s*$"
)
_HALF_IN_WORDS = (
    (re.compile(r"\s*(?:in the morning|du matin|de la manana)$"), " am"),
    (re.compile(r"\s*(?:in the (?:afternoon|evening)|de l'apres-midi|du soir|de la tarde)$"), " pm"),
)
_HALF_AT_END = re.compile(r"[ap]\.?\s?m\.?$")
_ZONE = re.compile(r"(?<=[\dm.])\s*\b(?:[aecmpn][ds]t|h[an][aecrpt])$")  # the local one: ADT, HAA
_OPENING = re.compile(r"^(?:at|from|between|vers le|de|a las?|a)\s+")
_STORED_DAY = re.compile(r"\d{4}-\d\d-\d\d[T ](\d\d:\d\d(?::\d\d)?)(?:\.\d+)?")
_BESIDE_DAY = r"(?:[01]?\d|2[0-3])[:h][0-5]\d(?::[0-5]\d(?:\.\d+)?)?(?:\s*[ap]\.?\s?m\b\.?)?"
_TIME_BESIDE = re.compile(
    rf"(?:t|,?\s+(?:at |a |a las? )?){_BESIDE_DAY}(?:\s?z\b|[-+]\d\d:?\d\d)?|^{_BESIDE_DAY},?\s+"
    r"|,?\s+(?:at |a |a las? )?\d{1,2}\s?(?:[ap]\.?\s?m\b\.?|h\b)"
)
_HALF_BESIDE = re.compile(
    r"[\s,(]+(?:in the |au |en |dans l'|de la |por la |l')?(?:[ap]\.?m\b\.?|morning|noon|afternoon|evening|night|matin"
    r"|midi|apres-midi|soir|nuit|manana|mediodia|tarde|noche)\)?$"
)
_MINUTES_A_DAY = 24 * 60


def read(text: str, kind: str) -> Reading:
    """A time as hh:mm or hh:mm:ss, or a span of two; without am or pm it is read as written.

    >>> read("14:05", "t")
    Reading(value='14:05', change='', doubt='', candidates=())
    >>> [read(text, "t").value for text in ("2:30 pm", "2:30", "14h05", "0615", "9 am", "midi", "14:05:06")]
    ['14:30', '02:30', '14:05', '06:15', '09:00', '12:00', '14:05:06']
    >>> read("2-3:30 pm", "t")
    Reading(value='14:00/15:30', change='written hours:minutes', doubt='', candidates=())
    >>> read("0.5", "n")
    Reading(value='12:00', change="the spreadsheet's part of a day", doubt='', candidates=())
    >>> read("14.3", "n")
    Reading(value='14.3', change='', doubt='two-readings', candidates=('14:30', '14:18'))
    >>> read("25:10", "t").doubt, read("after lunch", "t").doubt, read("2026-09-03", "d").doubt
    ('not-a-time', 'not-a-time', 'not-a-time')
    >>> read("vers 14h", "t")[2:], read("entre 2 et 3 pm", "t").value, read("2:30 de la tarde", "t").value
    (('unsure', ('14:00',)), '14:00/15:00', '14:30')
    >>> read("n/a", "t")
    Reading(value='', change='a word for nothing', doubt='', candidates=())
    """
    typed = text.strip()
    if not typed or is_blank_word(typed):
        return Reading("", "a word for nothing" if typed else "")
    if kind == "d":
        stored = _STORED_DAY.fullmatch(typed)
        return Reading(stored[1], "the time of a date") if stored else Reading(typed, doubt="not-a-time")
    if kind == "n" and not typed.isdigit():
        return _of_number(typed)
    value = _of_text(fold(typed)) if kind in "tnc" and len(typed) <= 60 else ""
    if not value:
        about = _of_text(_ABOUT.sub("", fold(typed))) if kind == "t" and len(typed) <= 60 else ""
        return Reading(typed, doubt="unsure" if about else "not-a-time", candidates=(about,) if about else ())
    return Reading(value, "" if value == typed else "written hours:minutes")


def without_time(folded: str) -> str:
    """A folded day without the time, or the half of the day, that stands beside it.

    >>> [without_time(text) for text in ("2026-09-03 14:05", "3 sept 2026 at 2 pm", "3/9/26 (evening)", "14h05 3/9/26")]
    ['2026-09-03', '3 sept 2026', '3/9/26', '3/9/26']
    """
    return _HALF_BESIDE.sub("", _TIME_BESIDE.sub("", folded.replace("’", "'")))


def _of_text(folded: str) -> str:
    opened = _ZONE.sub("", _OPENING.sub("", folded.replace("’", "'")).strip(" ,;."))
    for words, letters in _HALF_IN_WORDS:
        opened = words.sub(letters, opened)
    if whole := _time(opened):
        return whole
    between = _BETWEEN.fullmatch(folded)
    parts = list(between.groups()) if between else _SPAN.split(opened)
    if len(parts) != 2:
        return ""
    last = _time(parts[1])
    half = _HALF_AT_END.search(parts[1])
    # "2-3 pm" says pm once for both, and the 11 of "11-2 pm" is before noon.
    firsts = [f"{parts[0]} {half[0]}", f"{parts[0]} am"] if half else []
    for first in map(_time, [*firsts, parts[0]]):
        if first and last and first <= last:
            return f"{first}/{last}"
    return ""


def _time(written: str) -> str:
    if written in _WORDS:
        return _WORDS[written]
    if packed := _PACKED.fullmatch(written):
        return _clock(packed[1], packed[2], "", packed[3] or "")
    found = _TIME.fullmatch(written)
    if not found or not (found["sign"] or found["half"]):
        return ""
    return _clock(found["hour"], found["minute"] or "00", found["second"] or "", (found["half"] or "")[:1])


def _clock(hour: str, minute: str, second: str, half: str) -> str:
    hours = int(hour)
    if half and (hours == 0 or (half == "a" and hours > 12)):
        return ""
    if half and hours <= 12:
        hours = hours % 12 + (12 if half == "p" else 0)
    if hours > 23 or int(minute) > 59 or int(second or 0) > 59:
        return ""
    return f"{hours:02}:{minute}" + (f":{second}" if second else "")


def _of_number(typed: str) -> Reading:
    """A part of a day as spreadsheets store times, else hours with a point of unclear meaning."""
    if not re.fullmatch(r"[0-9]{1,2}\.[0-9]{1,17}", typed):
        return Reading(typed, doubt="not-a-time")
    number = float(typed)
    if number < 1:
        seconds = min(round(number * _MINUTES_A_DAY * 60), _MINUTES_A_DAY * 60 - 1)
        text = f"{seconds // 3600:02}:{seconds // 60 % 60:02}" + (f":{seconds % 60:02}" if seconds % 60 else "")
        return Reading(text, "the spreadsheet's part of a day")
    hours, part = typed.split(".")
    minutes = min(round(number % 1 * 60), 59)
    readings = (_clock(hours, part.ljust(2, "0")[:2], "", ""), _clock(hours, f"{minutes:02}", "", ""))
    found = tuple(dict.fromkeys(reading for reading in readings if reading))
    return Reading(typed, doubt="two-readings" if found else "not-a-time", candidates=found)
