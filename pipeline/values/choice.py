"""A word out of a list."""

from __future__ import annotations

import re
from typing import NamedTuple

from pipeline.model import Reading
from pipeline.values.text import is_blank_word, tidy

_SIGN_OF_DOUBT = re.compile(r"\s*\(\s*\?\s*\)\s*|\s*\?+\s*")
_WORD_OF_DOUBT = re.compile(
    r"\b(prob|probably|probable|probablement|probablemente|perhaps|maybe|possibly|likely|peut etre|quizas?"
    r"|tal vez|unsure|not sure|pas sure?|no se)\b"
)
_HOW = re.compile(r"(?P<word>[^(/]+?)\s*[(/]\s*(?P<behind>[^()/]+?)\)?")  # "M/iris", "F (size)": how it was told
_BETWEEN_LANGUAGES = re.compile(r"\s*[/|=()]\s*|\s+[-–—]\s+")
_LONGEST = 80


class Words(NamedTuple):
    """The spellings of a list, tidied, with the value of each, blank for nothing; and those of two languages."""

    spellings: dict[str, str]
    ambiguous: frozenset[str] = frozenset()


def read(text: str, words: Words) -> Reading:
    """The value of a list that a word stands for.

    >>> sexes = Words({"male": "male", "m": "male", "f": "female", "female": "female"}, frozenset({"h"}))
    >>> read("male", sexes)
    Reading(value='male', change='', doubt='', candidates=())
    >>> read("Mâle", sexes)
    Reading(value='male', change='word of the list', doubt='', candidates=())
    >>> read("F?", sexes)
    Reading(value='F?', change='', doubt='unsure', candidates=('female',))
    >>> read("M/iris", sexes)[2:], read("F (size)", sexes)[2:], read("M/F", sexes)[2:]
    (('unsure', ('male',)), ('unsure', ('female',)), ('not-in-list', ()))
    >>> read("Mâle / Male", sexes).value, read("M (male)", sexes).value, read("M/M", sexes).doubt
    ('male', 'male', 'not-in-list')
    >>> read("H", sexes)
    Reading(value='H', change='', doubt='two-languages', candidates=())
    >>> read("femmale", sexes)
    Reading(value='femmale', change='', doubt='not-in-list', candidates=())
    >>> read("n/a", sexes)
    Reading(value='', change='a word for nothing', doubt='', candidates=())
    >>> read(" ", sexes)
    Reading(value='', change='', doubt='', candidates=())
    """
    typed = text.strip()
    tidied = tidy(typed)
    is_doubted = "?" in typed
    if tidied in words.spellings and not is_doubted:
        value = words.spellings[tidied]
        return Reading(value, "" if value == typed else "word of the list" if value else "a word for nothing")
    if not typed or is_blank_word(typed):
        return Reading("", "a word for nothing" if typed else "")
    if tidied in words.ambiguous:
        return Reading(typed, doubt="two-languages")
    if len(typed) > _LONGEST:
        return Reading(typed, doubt="not-in-list")
    value = "" if is_doubted else _said_twice(typed, words)
    return Reading(value, "word of the list") if value else _doubted(typed, words)


def _said_twice(typed: str, words: Words) -> str:
    """The value of a cell that says the same in two ways, as the pick lists of forms in two languages do."""
    parts = [part for part in _BETWEEN_LANGUAGES.split(typed) if part]
    values = {words.spellings.get(tidy(part), "") for part in parts}
    # The same word twice may stand for two butterflies.
    is_other_word = len({part.casefold() for part in parts}) == len(parts) > 1
    return values.pop() if len(values) == 1 and is_other_word else ""


def _doubted(typed: str, words: Words) -> Reading:
    certain = tidy(_WORD_OF_DOUBT.sub(" ", tidy(_SIGN_OF_DOUBT.sub(" ", typed))))
    found = _HOW.fullmatch(typed)
    if found and tidy(found["behind"]) not in words.spellings:
        certain = tidy(found["word"]) if certain not in words.spellings else certain
    if words.spellings.get(certain):
        return Reading(typed, doubt="unsure", candidates=(words.spellings[certain],))
    return Reading(typed, doubt="not-in-list")
