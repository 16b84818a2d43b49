"""The nearest known word to an unknown one, only where one is clearly nearest."""

from __future__ import annotations

from collections.abc import Mapping

from rapidfuzz import fuzz, process

NEAR, AHEAD = 75.0, 5.0


def nearest(word: str, values: Mapping[str, str]) -> str:
    """The value whose spelling is nearest to a tidied word; blank if none is near or two are as near.

    >>> nearest("femal", {"female": "female", "male": "male", "f": "female"})
    'female'
    >>> nearest("xyz", {"female": "female"}), nearest("mal", {"male": "male", "mali": "mali"})
    ('', '')
    """
    if len(word) < 2:
        return ""
    found = process.extract(word, list(values), scorer=fuzz.ratio, limit=5, score_cutoff=NEAR)
    best: dict[str, float] = {}
    for spelling, score, _ in found:
        best[values[spelling]] = max(score, best.get(values[spelling], 0.0))
    ranked = sorted(best.items(), key=lambda pair: -pair[1])
    if not ranked or (len(ranked) > 1 and ranked[0][1] - ranked[1][1] < AHEAD):
        return ""
    return ranked[0][0]
