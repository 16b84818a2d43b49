"""Finds the slips of the pen in the programme's settings and names each in one plain line."""

from __future__ import annotations

import csv
import re
from collections.abc import Callable, Iterator
from dataclasses import fields
from datetime import date, datetime
from importlib.resources import files
from math import isfinite
from typing import Any, Literal, NamedTuple, get_args, get_origin, get_type_hints

from rapidfuzz import process


class Limit(NamedTuple):
    """What a value must also be, beyond its type, and the words that say so."""

    holds: Callable[[Any], bool]
    should_be: str


_NOT_NEGATIVE = Limit(lambda value: value >= 0, "0 or more")
_COUNTRY_CODES = Limit(
    lambda codes: bool(codes) and all(re.fullmatch("[A-Z]{2}", code) for code in codes),
    'country codes of two capital letters, such as ["CA", "US"]',
)
LIMITS = {
    "programme.id": Limit(lambda text: text.strip() != "", "a short name, not blank"),
    "season.label": Limit(lambda text: text.strip() != "", "the season's name, not blank"),
    "tags.pattern": Limit(lambda text: _is_pattern(text), "a regular expression for a whole code"),
    "region.countries": _COUNTRY_CODES,
    "region.release_countries": _COUNTRY_CODES,
    "region.unknown_datum_metres": _NOT_NEGATIVE,
    "region.receiver_accuracy_m": _NOT_NEGATIVE,
    "privacy.home_square_degrees": Limit(lambda value: 0 < value <= 1, "above 0 and at most 1 degree"),
    "letters.days_to_answer": _NOT_NEGATIVE,
    "letters.reminder_days": _NOT_NEGATIVE,
    "letters.reminders": _NOT_NEGATIVE,
    "finds.longest_life_days": _NOT_NEGATIVE,
    "finds.fastest_km_per_day": _NOT_NEGATIVE,
    "finds.local_km": _NOT_NEGATIVE,
    "portal.sex_words": Limit(
        lambda words: _are_portal_words("sex", words), "the words for female and male, out of schemas/portal_words.csv"
    ),
    "portal.life_stage_words": Limit(
        lambda words: _are_portal_words("lifeStage", words),
        "the words for egg, larva, pupa, juvenile and adult, out of schemas/portal_words.csv",
    ),
    "portal.establishment_means": Limit(
        lambda text: text in ("", *establishment_means()),
        "blank or a word of schemas/establishment_pathway.csv",
    ),
}
KINDS = {
    str: "text in quotation marks",
    int: "a whole number",
    float: "a number",
    date: "a day such as 2026-08-01",
}


def establishment_means() -> tuple[str, ...]:
    """The words that the standard has for establishmentMeans."""
    return tuple(line["value"] for line in _lines("establishment_pathway.csv") if line["term"] == "establishmentMeans")


def _are_portal_words(term: str, words: list[str]) -> bool:
    """The list has a word for each of the term's values, in their order."""
    known: dict[str, list[str]] = {}
    for line in _lines("portal_words.csv"):
        if line["term"] == term:
            known.setdefault(line["value"], []).append(line["word"])
    return len(words) == len(known) and all(word in own for word, own in zip(words, known.values(), strict=True))


def _lines(name: str) -> list[dict[str, str]]:
    return list(csv.DictReader(files("schemas").joinpath(name).read_text(encoding="utf-8").splitlines()))


def slips(said: dict[str, Any], text: str, sections: dict[str, Any]) -> Iterator[tuple[int, str]]:
    """Line and words of every slip in what was said; `sections` has the dataclass of every section."""
    for name, keys in said.items():
        if name not in sections or not isinstance(keys, dict):
            what = f"[{name}]" if isinstance(keys, dict) else f'"{name}" outside a section'
            yield _slip(text, name, "", f"there is no {what}{_perhaps(name, sections, keys)}")
            continue
        hints = get_type_hints(sections[name])
        for key, value in keys.items():
            wrong = _wrong(f"{name}.{key}", value, hints)
            if wrong:
                yield _slip(text, name, key, wrong)
    yield from _days_crossed(said, text, sections)


def _wrong(name: str, value: Any, hints: dict[str, Any]) -> str:
    """What is wrong with one setting, in words; blank if nothing is."""
    section, key = name.split(".", 1)
    if key not in hints:
        nearest = process.extractOne(key, list(hints), score_cutoff=60)
        return f'there is no setting "{key}" in [{section}]' + (f': is "{nearest[0]}" meant?' if nearest else "")
    should_be = _should_be(value, hints[key])
    if not should_be and name in LIMITS and not LIMITS[name].holds(value):
        should_be = LIMITS[name].should_be
    return f"{key} in [{section}] should be {should_be}, not {_as_written(value)}" if should_be else ""


def _should_be(value: Any, kind: Any) -> str:
    """What a value of this kind should be, if the value is not one; else blank."""
    if get_origin(kind) is Literal:
        return "" if value in get_args(kind) else "one of " + ", ".join(f'"{word}"' for word in get_args(kind))
    if get_origin(kind) is tuple:
        inner = get_args(kind)[0]
        if isinstance(value, list):
            return next((f"a list, each {words}" for one in value if (words := _should_be(one, inner))), "")
        return 'a list such as ["one", "two"]'
    if isinstance(value, (bool, datetime)):
        return KINDS[kind]
    if isinstance(value, str) and kind is str and re.search(r"[\x00-\x1f\x7f]", value):
        return "one line of text"
    fits = isinstance(value, (int, float) if kind is float else kind)
    return "" if fits and not (isinstance(value, float) and not isfinite(value)) else KINDS[kind]


def _days_crossed(said: dict[str, Any], text: str, sections: dict[str, Any]) -> Iterator[tuple[int, str]]:
    season = said.get("season")
    given = season if isinstance(season, dict) else {}
    first, last = (given.get(key, getattr(sections["season"], key)) for key in ("first_day", "last_day"))
    if type(first) is date and type(last) is date and first > last:
        yield _slip(text, "season", "last_day", f"last_day {last} in [season] comes before first_day {first}")


def _perhaps(name: str, sections: dict[str, Any], keys: Any) -> str:
    if not isinstance(keys, dict):
        homes = [section for section, kind in sections.items() if name in {each.name for each in fields(kind)}]
        return f": it belongs under [{homes[0]}]" if homes else ""
    nearest = process.extractOne(name, list(sections), score_cutoff=60)
    return f": is [{nearest[0]}] meant?" if nearest else ""


def _slip(text: str, section: str, key: str, words: str) -> tuple[int, str]:
    line = _line_of(text, section, key)
    end = "" if words.endswith("?") else "."
    return line, (f"Line {line} of the settings: {words}{end}" if line else f"The settings: {words}{end}")


def _line_of(text: str, section: str, key: str) -> int:
    """The line, counted from 1, on which a section or one of its keys stands; 0 if it was not seen."""
    here = ""
    for number, line in enumerate(text.splitlines(), start=1):
        heading = re.match(r"\s*\[\s*[\"']?([^\]\"']+?)[\"']?\s*\]", line)
        named = re.match(r"\s*[\"']?([\w.-]+)[\"']?\s*=", line)
        here = heading[1] if heading else here
        if (heading and not key and here == section) or (
            named and (f"{here}.{named[1]}".strip(".") == f"{section}.{key}".strip("."))
        ):
            return number
    return 0


def _as_written(value: Any) -> str:
    if isinstance(value, bool):
        return str(value).lower()
    return re.sub(r"[\x00-\x1f\x7f]", " ", f'"{value}"' if isinstance(value, str) else str(value))


def _is_pattern(text: str) -> bool:
    try:
        re.compile(text)
    except re.error:
        return False
    return text != ""
