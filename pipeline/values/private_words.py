"""What in a text tells who somebody is or where they live: names, house numbers, postcodes, addresses."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import NamedTuple

from pipeline.values.text import tidy

# Words that turn a single name beside them into a hint at somebody's home; common practice, EN, FR, ES.
_HOME = {
    *(
        "house",
        "home",
        "yard",
        "backyard",
        "garden",
        "farm",
        "barn",
        "cottage",
        "cabin",
        "property",
        "driveway",
    ),
    *(
        "porch",
        "deck",
        "family",
        "class",
        "maison",
        "jardin",
        "cour",
        "ferme",
        "chalet",
        "terrain",
        "potager",
    ),
    *(
        "chez",
        "famille",
        "classe",
        "casa",
        "patio",
        "finca",
        "granja",
        "rancho",
        "huerto",
        "familia",
        "clase",
    ),
}
_SAINT = {"st", "saint", "sainte", "ste", "san", "santa"}
_PARTICLES = {
    *(
        "de",
        "du",
        "la",
        "le",
        "les",
        "des",
        "van",
        "von",
        "der",
        "den",
        "del",
        "los",
        "las",
        "da",
        "di",
        "el",
    ),
    *("the", "and", "of", "y", "et"),
}
# Numbers that name a road, a plot or a length, never a house.
_NUMBERING = (
    "highway|hwy|route|rte|autoroute|exit|sortie|salida|km|kilometre|kilometer|kilómetro|mile|milla|trail|sentier|"
    "sendero|site|sitio|plot|parcelle|parcela|zone|zona|lot|field|champ|campo|point|punto|marker|borne|section|"
    "block|station|estación|transect|grid|carretera|autopista"
)
_UNITS = (
    "km|m|mi|ft|ha|cm|met(?:re|er)s?|mètres?|metros?|miles?|milles?|millas?|feet|pieds|pies|acres?|hectares?|"
    r"kilom\w+"
)
_NUMBER = re.compile(
    rf"(?P<numbering>\b(?:{_NUMBERING})s?\.?\s*)?(?<![\w.,])#?(?:n[o°º]\.?\s*)?\d{{1,5}}[a-z]?\b(?![.,]\d)"
    rf"(?P<unit>\s*(?:{_UNITS})\b)?",
    re.IGNORECASE,
)
_POSTCODES = re.compile(
    r"\b[a-z]\d[a-z](?:[ -]?\d[a-z]\d)?\b|\b\d{5}(?:-\d{4})?\b|\b[a-z]{1,2}\d[a-z\d]? \d[a-z]{2}\b",
    re.IGNORECASE,
)
_CONTACT = re.compile(r"@|://|\bwww\.|(?:\d[ ().-]{0,2}){9}\d")


_LETTER = re.compile(r"[^\W\d_]")


class Names(NamedTuple):
    """Names by which people may be known in a text, tidied."""

    whole: frozenset[str]
    parts: frozenset[str]
    longest: int  # words of the longest


def names_of(written: Iterable[str]) -> Names:
    """The names as whole texts, and their single words."""
    whole = frozenset(filter(None, map(tidy, written)))
    parts = frozenset(word for name in whole for word in name.split() if len(word) > 1 and word not in _PARTICLES)
    return Names(whole, parts, max((len(name.split()) for name in whole), default=0))


def holds_name(text: str, names: Names) -> bool:
    """The text holds a whole name, or a single one beside a word of home or possession.

    >>> anna = names_of(["Anna Muise"])
    >>> [holds_name(text, anna) for text in ("chez Anna MUISE", "Anna's yard", "Saint Anna Bay")]
    [True, True, False]
    """
    if not _LETTER.search(text):
        return False
    words = tidy(text).split()
    starts, lengths = range(len(words)), range(1, names.longest + 1)
    if any(" ".join(words[start : start + length]) in names.whole for start in starts for length in lengths):
        return True
    return any(word in names.parts and _is_of_home(words, place) for place, word in enumerate(words))


def _is_of_home(words: list[str], place: int) -> bool:
    if place and words[place - 1] in _SAINT:
        return False
    after = words[place + 1 : place + 3]
    return after[:1] in (["s"], ["'s"]) or bool(_HOME & {*words[max(0, place - 2) : place], *after})


def holds_house_number(text: str) -> bool:
    """The text holds a number that may be a house's: neither of a road or plot, nor a length.

    >>> [holds_house_number(text) for text in ("12 Elm Street", "calle Hidalgo 45", "Route 132", "3 km")]
    [True, True, False, False]
    """
    return any(not match["numbering"] and not match["unit"] for match in _NUMBER.finditer(text))


def holds_postcode(text: str) -> bool:
    """The text holds what looks like a postcode of Canada, the United States, Mexico or Great Britain.

    >>> holds_postcode("Sackville E4L 1A1"), holds_postcode("Angangueo 61411"), holds_postcode("Sackville")
    (True, True, False)
    """
    return bool(_POSTCODES.search(text))


def holds_contact(text: str) -> bool:
    """The text holds an e-mail or web address, or a telephone number of ten digits or more.

    >>> holds_contact("call 506-555-0142 x 3"), holds_contact("me@example.org"), holds_contact("marsh 2")
    (True, True, False)
    """
    return bool(_CONTACT.search(text))
