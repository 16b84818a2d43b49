"""Names of towns, told so that spellings of one name meet."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from typing import NamedTuple

from pipeline.values.text import tidy

_SHORT = {"st": "saint", "ste": "sainte", "sta": "santa", "mt": "mount", "ft": "fort", "pt": "point", "n": "north"}
_CITY = re.compile(r"^(?:town|city|village|ville|ciudad|pueblo) (?:of|de) | (?:city|town|village)$")


class Town(NamedTuple):
    """A town's middle in degrees and how far a place that is told by its name alone may lie from it, in metres."""

    name: str
    state: str  # ISO 3166-2, "" where not known
    country: str  # ISO 3166-1
    latitude: float
    longitude: float
    metres: float
    source: str


Towns = Callable[[Sequence[str], str], Sequence[Town]]  # of the countries named those with a key


def no_towns(countries: Sequence[str], key: str) -> Sequence[Town]:
    """A list that knows no town."""
    return ()


def town_key(name: str) -> str:
    """A town's name as it is compared.

    >>> town_key("St. John's"), town_key("SAINT-JOHNS"), town_key("Québec City"), town_key("Ville de Québec")
    ('saint johns', 'saint johns', 'quebec', 'quebec')
    """
    words = tidy(name.replace("'", "").replace("\u2019", "")).split()
    return _CITY.sub("", " ".join(_SHORT.get(word, word) for word in words))
