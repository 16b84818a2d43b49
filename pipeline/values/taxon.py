"""The name of a species, scientific or common."""

from __future__ import annotations

import re
from collections.abc import Mapping

from pipeline.model import Reading
from pipeline.values.text import is_blank_word, tidy

Names = Mapping[str, tuple[str, ...]]  # tidied name: the scientific names that it may stand for

_KIND_OF_ANIMAL = re.compile(r"\b(the|a|le|la|el|un|une|una|butterfly|butterflies|papillons?|mariposas?)\b")
_GENUS_ONLY = re.compile(r"([a-z]+) (?:sp|spp|species|espece|especie)")
_AUTHOR = re.compile(r"^\s*([A-Z][a-zë-]+ [a-zë-]+(?: [a-zë-]+)?)\s*,?\s+\(?[A-Z].*$")
_IN_BRACKETS = re.compile(r"^(.*?)\s*[(\[/]\s*(.+?)\s*[)\]]?\s*$")
_LONGEST = 120


def read(text: str, names: Names) -> Reading:
    """The scientific name that a name stands for in the programme's list.

    >>> names = {"danaus plexippus": ("Danaus plexippus",), "monarch": ("Danaus plexippus",),
    ...          "danaus": ("Danaus",), "swallowtail": ("Papilio polyxenes", "Papilio glaucus")}
    >>> read("Danaus plexippus", names)
    Reading(value='Danaus plexippus', change='', doubt='', candidates=())
    >>> read("Monarch butterfly", names)
    Reading(value='Danaus plexippus', change='scientific name', doubt='', candidates=())
    >>> [read(text, names).value for text in ("D. plexippus", "Danaus plexippus (L.)", "Danaus sp.")]
    ['Danaus plexippus', 'Danaus plexippus', 'Danaus']
    >>> read("swallowtail", names).doubt, read("swallowtail", names).candidates
    ('name-of-several', ('Papilio polyxenes', 'Papilio glaucus'))
    >>> read("Monarch?", names)
    Reading(value='Monarch?', change='', doubt='unsure', candidates=('Danaus plexippus',))
    >>> read("Danus plexipus", names)
    Reading(value='Danus plexipus', change='', doubt='not-in-list', candidates=())
    >>> read("unknown", names)
    Reading(value='', change='a word for nothing', doubt='', candidates=())
    """
    typed = text.strip()
    if not typed or (is_blank_word(typed) and tidy(typed) not in names):
        return Reading("", "a word for nothing" if typed else "")
    found = _stands_for(typed, names) if len(typed) <= _LONGEST else ()
    if len(found) > 1:
        return Reading(typed, doubt="name-of-several", candidates=found)
    if not found:
        return Reading(typed, doubt="not-in-list")
    if "?" in typed or re.search(r"\b(?:cf|aff|nr)\b\.?", typed):
        return Reading(typed, doubt="unsure", candidates=found)
    return Reading(found[0], "" if found[0] == typed else "scientific name")


def _stands_for(typed: str, names: Names) -> tuple[str, ...]:
    if found := _looked_up(typed, names):
        return found
    if author := _AUTHOR.match(typed):
        return _looked_up(author[1], names)
    if both := _IN_BRACKETS.match(typed):
        sides = [_looked_up(side, names) for side in both.groups()]
        narrowest = [set(side) for side in sides if side]
        if len(narrowest) == 2:
            return tuple(sorted(narrowest[0] & narrowest[1])) or tuple(sorted(narrowest[0] | narrowest[1]))
    return ()


def _looked_up(name: str, names: Names) -> tuple[str, ...]:
    tidied = tidy(re.sub(r"\b(?:cf|aff|nr)\b\.?", " ", name))
    if tidied in names:
        return names[tidied]
    plain = tidy(_KIND_OF_ANIMAL.sub(" ", tidied))
    for spelling in (plain, plain.removesuffix("s"), plain.removesuffix("es")):
        if spelling in names:
            return names[spelling]
    if genus := _GENUS_ONLY.fullmatch(tidied):
        return names.get(genus[1], ())
    return _of_initial(plain, names)


def _of_initial(tidied: str, names: Names) -> tuple[str, ...]:
    """ "d plexippus" stands for the one species of the list with that initial and that epithet."""
    initial, _, epithet = tidied.partition(" ")
    if len(initial) != 1 or not epithet:
        return ()
    # Only scientific names, which stand for themselves.
    full = [name for name in names if name.startswith(initial) and name.endswith(f" {epithet}")]
    return tuple(dict.fromkeys(found for name in full for found in names[name] if tidy(found) == name))
