"""A heading that is a whole question, as forms export them: `In which town did you let it go?`"""

from __future__ import annotations

from collections.abc import Mapping

from pipeline.values.text import tidy

FEWEST_WORDS, MOST_WORDS = 4, 40
_WHICH = frozenset({"which", "what", "quel", "quelle", "que", "cual"})
_BEGIN = frozenset({"who", "where", "when", "qui", "ou", "quand", "quien", "donde", "cuando"})


def asked_for(written: str, known: Mapping[str, tuple[str, str]]) -> str:
    """The known heading that a question asks for: the word after which or what, or the where and when it begins with.

    >>> known = {"day": ("day", ""), "town": ("municipality", ""), "where": ("locality", ""), "spot": ("locality", "")}
    >>> asked_for("On which day did you let the butterfly go?", known), asked_for("Where did you let it go?", known)
    ('day', 'where')
    >>> asked_for("Did you see a dark spot on the hindwing?", known), asked_for("which day", known)
    ('', '')
    """
    words = tidy(written).split()
    is_question = written.rstrip().endswith("?")
    if not (2 if is_question else FEWEST_WORDS) <= len(words) <= MOST_WORDS:
        return ""
    for at, word in enumerate(words[:6]):
        for end in range(min(at + 5, len(words)), at + 1, -1) if word in _WHICH else ():
            if (name := " ".join(words[at + 1 : end])) in known:
                return name
    return words[0] if words[0] in _BEGIN and words[0] in known and is_question else ""
