"""The words of question sheets and letters in the reader's language."""

from __future__ import annotations

import csv
import io
import re
from datetime import date
from functools import cache
from importlib.resources import files

DAYS = ("eventDate", "captureDate", "emergenceDate")
ISO_DAY = re.compile(r"\d{4}-\d\d-\d\d")
PAIRS = re.compile(r"\w+=.*")
LANGUAGES = ("en", "fr", "es")


def language_of(written: str) -> str:
    """The language that we have words in; English where we have none.

    >>> language_of("fr-CA"), language_of("de"), language_of("")
    ('fr', 'en', 'en')
    """
    short = written.strip().lower()[:2]
    return short if short in LANGUAGES else "en"


@cache
def labels(language: str) -> dict[str, str]:
    """Every label and sentence by its key; a key is known in all languages."""
    text = files("schemas").joinpath("messages/labels.csv").read_text(encoding="utf-8")
    column = language_of(language)
    return {line["key"]: line[column] for line in csv.DictReader(io.StringIO(text))}


def _spell_point(iso: str, language: str) -> str:
    words = labels(language)
    try:
        shown = date.fromisoformat(f"{iso}-01"[:10])
    except ValueError:
        return iso
    form = "month_in_words" if len(iso) == 7 else "day_first_of_month" if shown.day == 1 else "day_in_words"
    return words[form].format(day=shown.day, month=words[f"month_{shown.month}"], year=shown.year)


def spell_day(iso: str, language: str) -> str:
    """An ISO 8601 day, month or interval in words; any other text as it is.

    >>> spell_day("2026-09-14", "en"), spell_day("2026-09-01", "fr"), spell_day("2026-09", "es")
    ('14 September 2026', '1er septembre 2026', 'septiembre de 2026')
    >>> spell_day("2026-09-14/2026-09-16", "en"), spell_day("2026", "en"), spell_day("in the fall", "en")
    ('14 September 2026 – 16 September 2026', '2026', 'in the fall')
    """
    first, mark, last = iso.partition("/")
    if not mark:
        return _spell_point(iso, language)
    spelled = (_spell_point(first, language), _spell_point(last, language))
    return labels(language)["days_between"].format(first=spelled[0], last=spelled[1])


def spell_number(number: int, language: str) -> str:
    """A whole number, its thousands set apart from 10,000 on.

    >>> spell_number(3900, "en"), spell_number(12345, "en")
    ('3900', '12,345')
    """
    return f"{number:,}".replace(",", labels(language)["thousands_mark"]) if number >= 10_000 else str(number)


def in_words(field: str, suggestion: str, language: str) -> str:
    """A suggestion as a person would write it: days spelled out, words of a list in their language.

    >>> in_words("eventDate", "2026-09-14", "en"), in_words("sex", "male", "fr"), in_words("tagCode", "SM0012", "es")
    ('14 September 2026', 'mâle', 'SM0012')
    >>> in_words("decimalLatitude", "decimalLatitude=45.9; decimalLongitude=-64.4", "en")
    'Latitude 45.9, Longitude -64.4'
    """
    if PAIRS.match(suggestion):
        pairs = (pair.split("=", 1) for pair in suggestion.split("; "))
        return ", ".join(f"{field_label(name, language)} {in_words(name, value, language)}" for name, value in pairs)
    if field in DAYS or ISO_DAY.fullmatch(suggestion):
        return spell_day(suggestion, language)
    return labels(language).get(f"value_{suggestion}", field_label(suggestion, language))


@cache
def _field_labels(language: str) -> dict[str, str]:
    text = files("schemas").joinpath("fields.csv").read_text(encoding="utf-8")
    lines = csv.DictReader(io.StringIO(text))
    return {line["field"]: line[f"label_{language_of(language)}"] for line in lines}


def field_label(field: str, language: str) -> str:
    """What a field is called in the reader's language."""
    return _field_labels(language).get(field, field)
