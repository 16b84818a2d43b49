"""Words that stand where the code of a tag should, or beside it."""

from __future__ import annotations

import re

from pipeline.values.text import is_blank_word, tidy

_NO_TAG = frozenset({
    "lost", "spoiled", "broken", "untagged", "not tagged", "no tag", "notag", "escaped", "dead", "rip", "perdu",
    "perdue", "perdida", "perdido", "abime", "sans etiquette", "pas d etiquette", "sin etiqueta", "no number",
    "no code", "see notes", "same", "idem", "ditto", "mort", "morte", "muerta", "muerto", "echappe", "escapo",
})  # fmt: skip
_PUT_ON = re.compile(
    r"[-=]>|→|\b(?:now|new|re-?tagged|replaced|replacement|maintenant|nouvelle|remplac\w+|ahora|nuev[ao]|reemplaz\w+)\b",
    re.IGNORECASE,
)
_OLD = (
    r"\b(?:was|formerly|replac(?:es|ing)|instead of|remplace|au lieu d[eu]|était|avant|antes|reemplaza(?: a)?|en lugar"
    r" de|era)\s+(\S+)"
)
_IS_OLD = re.compile(_OLD, re.IGNORECASE)
_CAME_OFF = re.compile(
    rf"\b(?:fell off|fallen|came off|lost|tombée?|perdue?|décollée?|se cayó|perdida)\b|{_OLD}", re.IGNORECASE
)


def is_word_for_no_tag(typed: str) -> bool:
    """The cell says in words that there is no code.

    >>> [is_word_for_no_tag(text) for text in ("Untagged", "no tag", "sans étiquette", "?", "SM0042")]
    [True, True, True, True, False]
    """
    return tidy(typed) in _NO_TAG or is_blank_word(typed)


def says_another_took_its_place(typed: str, codes: int) -> bool:
    """The words of a cell with so many codes say that one tag came off and another was put on.

    >>> says_another_took_its_place("SM0101 fell off, now SM0102", 2), says_another_took_its_place("0101 -> 0102", 0)
    (True, True)
    >>> says_another_took_its_place("SM0102 (was SM0101)", 2), says_another_took_its_place("SM0101 was torn", 1)
    (True, False)
    """
    return bool(_PUT_ON.search(typed) or (codes > 1 and _CAME_OFF.search(typed)))


def old_codes(typed: str) -> list[str]:
    """What is said to be the old code.

    >>> old_codes("SM0102 (was SM0101)"), old_codes("SM0102 remplace SM0101"), old_codes("now SM0102")
    (['SM0101)'], ['SM0101'], [])
    """
    return _IS_OLD.findall(typed)
