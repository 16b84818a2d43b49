"""Signs and words that say that the writer of a day was not sure of it."""

from __future__ import annotations

import re

_UNSURE = re.compile(
    r"^(?:[~≈]|(?:c(?=\.)|ca|circa|(?:on or )?about|around|vers|environ|env|hacia|aprox)\b\.?)\s*"
    r"|^\?+\s*|\s*(?:\(\s*(?:\?|(?:about|approx|est|env|aprox)\b\.?)\s*\)|\?+|\*+)\s*$"
    r"|^(?:early|mid|late|debut|mi|fin|principios|mediados|fin(?:es|ales)?)\b[\s-]*(?=[a-z])"
)
_EITHER = re.compile(r"\s+(?:or|ou|o)\s+")


def without_doubt(folded: str) -> str:
    """A folded day without the sign of doubt.

    >>> without_doubt("3 sept 2026 (?)"), without_doubt("early sept 2026"), without_doubt("3 sept 2026")
    ('3 sept 2026', 'sept 2026', '3 sept 2026')
    """
    return _UNSURE.sub("", folded)


def either(folded: str) -> list[str]:
    """The two days of which it was one; nothing if there are not two.

    >>> either("3 or 4 sept 2026"), either("3 sept 2026")
    (['3', '4 sept 2026'], [])
    """
    days = _EITHER.split(folded)
    return days if len(days) == 2 else []
