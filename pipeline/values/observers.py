"""The people named in one cell: `Ines Melanson & Rémi Doucet`, `Doucet, Rémi; Melanson, Ines`."""

from __future__ import annotations

import re
from collections.abc import Collection

from pipeline.values.text import tidy

_APART = re.compile(r"\s*[;/|\n&+]\s*|\s+(?:and|et|y|with|avec|con)\s+", re.IGNORECASE)
_COMMA = re.compile(r"\s*,\s*")


def observers(text: str, known: Collection[str] = ()) -> tuple[str, ...]:
    """The names in a cell, in their order; `known` are tidied names, which tell `Doucet, Rémi` from two people.

    >>> observers("Ines Melanson & Rémi Doucet"), observers("Anna, Luc et Maud"), observers("")
    (('Ines Melanson', 'Rémi Doucet'), ('Anna', 'Luc', 'Maud'), ())
    >>> observers("Doucet, Rémi; Melanson, Ines", {"remi doucet", "ines melanson"})
    ('Rémi Doucet', 'Ines Melanson')
    >>> observers("Anne and Co", {"anne and co"})
    ('Anne and Co',)
    """
    if not text.strip() or tidy(text) in known:
        return (text.strip(),) if text.strip() else ()
    names = [name for piece in _APART.split(text.strip()) if piece for name in _of_piece(piece, known)]
    return tuple(dict.fromkeys(names))


def _of_piece(piece: str, known: Collection[str]) -> list[str]:
    parts = [part for part in _COMMA.split(piece) if part]
    turned = " ".join(reversed(parts))
    return [turned] if len(parts) == 2 and tidy(turned) in known else parts
