"""The parts of a scientific name as it is written in one piece: genus, epithet, and the last epithet below it."""

from __future__ import annotations

from typing import NamedTuple

_RANKS = frozenset({
    "subsp.", "subsp", "ssp.", "ssp", "var.", "var", "subvar.", "f.", "fo.", "forma", "form", "subf.", "subform.",
    "nothosubsp.", "nothovar.", "ab.", "morph", "race", "stirps", "cv.", "pv.", "convar.",
})  # fmt: skip
_DOUBTS = frozenset({"cf.", "cf", "aff.", "aff", "nr.", "nr", "near", "?"})
_BEFORE_AUTHORS = frozenset({
    "af", "and", "auct", "av", "bis", "da", "de", "del", "della", "den", "der", "des", "di", "do", "dos", "du", "el",
    "emend", "et", "ex", "fil", "in", "la", "le", "nec", "non", "pro", "sensu", "sp", "spp", "st", "ten", "ter", "van",
    "vel", "vom", "von", "zu", "zur",
})  # fmt: skip


class Parts(NamedTuple):
    """What a name is made of; "" where it has no such part."""

    genus: str = ""
    specific: str = ""
    infraspecific: str = ""


def parts_of(name: str) -> Parts:
    """The parts of a name; subgenus, authors, marks of ranks, of crosses and of doubt are left out.

    >>> parts_of("Danaus (Anosia) plexippus megalippe (H\u00fcbner, 1826)")
    Parts(genus='Danaus', specific='plexippus', infraspecific='megalippe')
    >>> parts_of("Quercus alba L. var. repanda Michx. f."), parts_of("Vanessa cf. cardui"), parts_of("Danaus sp.")[:2]
    (Parts(genus='Quercus', specific='alba', infraspecific='repanda'), Parts(genus='Vanessa', specific='cardui', \
infraspecific=''), ('Danaus', ''))
    """
    words = [word for word in without_cross(name).split() if word not in ("x", "X") and word not in _DOUBTS]
    if not words:
        return Parts()
    genus, *rest = words
    rest = _without_subgenus(rest)
    if not rest or not _is_epithet(rest[0]):
        return Parts(genus)
    return Parts(genus, rest[0], _last_epithet(rest[1:]))


def without_cross(part: str) -> str:
    """A part of a name without outer blanks and without the mark of a cross."""
    return part.replace("\u00d7", " ").strip()


def _without_subgenus(words: list[str]) -> list[str]:
    is_subgenus = len(words) > 1 and words[0][0] == "(" and words[0][-1] == ")" and _is_epithet(words[1])
    return words[1:] if is_subgenus else words


def _last_epithet(words: list[str]) -> str:
    last, author_seen, after_rank = "", False, False
    for word in words:
        if _is_epithet(word) and word not in _RANKS and (after_rank or not author_seen):
            last = word
        elif word not in _RANKS:
            author_seen = True
        after_rank = word in _RANKS
    return last


def _is_epithet(word: str) -> bool:
    return len(word) > 1 and word[0].islower() and word.replace("-", "").isalpha() and word not in _BEFORE_AUTHORS
