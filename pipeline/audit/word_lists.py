"""A value held against the list of words of its term: exactly to judge it, loosely to propose a better one."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from string import ascii_lowercase

from pipeline.audit.audit_test import (
    Response,
    amended,
    cannot_say,
    compliant,
    is_empty,
    not_amended,
    not_compliant,
    source_is_missing,
)
from pipeline.values.text import fold

Words = Mapping[str, tuple[str, ...]]  # a term: the words of its list
Spellings = Mapping[str, Mapping[str, str]]  # a term: a loose spelling, and the one word that it stands for

_LEFT_OUT = str.maketrans("", "", "_-.\u00a0")
_SHORTEST_MISSPELT = 5


def loosely(value: str) -> str:
    """A spelling as it is compared: case, accents, blanks, underscores, hyphens and dots make no difference.

    >>> loosely(" Human_observation"), loosely("s\u00fap."), loosely("f?")
    ('humanobservation', 'sup', 'f?')
    """
    return "".join(fold(value).split()).translate(_LEFT_OUT)


def spellings_of(written: Iterable[tuple[str, str, str]]) -> dict[str, dict[str, str]]:
    """For each term its loose spellings, from term, spelling and word; one that stands for two words is left out.

    >>> spellings_of([("sex", "F", "Female"), ("sex", "f.", "Female"), ("sex", "x", "Male"), ("sex", "X", "Female")])
    {'sex': {'f': 'Female'}}
    """
    meant: dict[str, dict[str, set[str]]] = {}
    misspelt: dict[str, dict[str, set[str]]] = {}
    for term, spelling, word in written:
        plain = loosely(spelling)
        meant.setdefault(term, {}).setdefault(plain, set()).add(word)
        for slip in slips_of(plain) if plain == loosely(word) else ():
            misspelt.setdefault(term, {}).setdefault(slip, set()).add(word)
    return {
        term: {
            spelling: next(iter(words))
            for spelling, words in (misspelt.get(term, {}) | each).items()
            if spelling and len(words) == 1
        }
        for term, each in meant.items()
    }


def slips_of(word: str) -> set[str]:
    """A word with a letter missing, a letter too many, or two neighbours that have changed places.

    Another letter in the place of one is no slip: it makes other words (imago, image).

    >>> {"evnt", "eventt", "evetn"} <= slips_of("event"), "evens" in slips_of("event"), slips_of("male")
    (True, False, set())
    """
    if len(word) < _SHORTEST_MISSPELT or not word.isalpha():
        return set()
    parts = [(word[:place], word[place:]) for place in range(len(word) + 1)]
    missing = {before + after[1:] for before, after in parts if after}
    too_many = {before + letter + after for before, after in parts for letter in ascii_lowercase}
    swapped = {before + after[1] + after[0] + after[2:] for before, after in parts if len(after) > 1}
    return (missing | too_many | swapped) - {word}


def judged(term: str, value: str, words: Words) -> Response:
    """Whether a value is, sign by sign, a word of the list of its term."""
    known = words.get(term, ())
    if not known:
        return source_is_missing(f"there is no list of words for {term} here")
    if is_empty(value):
        return cannot_say(f"{term} is empty")
    if value in known:
        return compliant()
    few = f"not one of {', '.join(known)}" if len(known) <= 3 else "which is, sign by sign, no word of its list"
    return not_compliant(f"{term} is {shown(value)}, {few}")


def proposed(term: str, value: str, words: Words, spellings: Spellings) -> Response:
    """The one word of the list of its term that a value can stand for, where it is not that word already."""
    known = words.get(term, ())
    if not known:
        return source_is_missing(f"there is no list of words for {term} here")
    if is_empty(value):
        return cannot_say(f"{term} is empty")
    if value in known:
        return not_amended()
    word = spellings.get(term, {}).get(loosely(value), "")
    if not word:
        return not_amended(f"{term} is {shown(value)}, which stands for no one word of its list")
    return amended(f"{term} is {shown(value)}, which can only mean {word}", **{term: word})


def shown(value: str) -> str:
    """A value as a comment quotes it, cut where it is long."""
    return repr(value if len(value) <= 60 else value[:60] + "…")
