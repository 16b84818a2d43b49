"""The words of answers in English, French and Spanish, and how a phrase among them is found in a text."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from types import MappingProxyType
from typing import NamedTuple

from pipeline.values.text import tidy

SUGGESTION, RIGHT, OTHER, UNKNOWN = PICKS = ("suggestion", "right", "other", "unknown")  # 1 to 4, as they may be typed
FATES = ("released", "lost", "spoiled", "not used", "kept")
LONGEST = 300  # characters: beyond, it is a letter and no answer
MOST_WORDS = 9  # of a phrase that we know

_LABELS_OF_PICKS = {"use_suggestion": SUGGESTION, "right_as_it_is": RIGHT, "other_value": OTHER, "do_not_know": UNKNOWN}
_LABELS_OF_FATES = {f"fate_{fate.replace(' ', '_')}": fate for fate in FATES}
_WORD = re.compile(r"[^\W_]+")


class AnswerWords(NamedTuple):
    """The words of answers in all languages, tidied."""

    picks: Mapping[str, str] = MappingProxyType({})  # word: pick
    fates: Mapping[str, str] = MappingProxyType({})  # word: what became of a tag
    others: Mapping[str, str] = MappingProxyType({})  # word: none, take out, all, no, it is, because, but ...
    labels: Mapping[str, str] = MappingProxyType({})  # label of a question sheet or letter: its key


def answer_words(
    words: Iterable[Mapping[str, str]], fates: Iterable[Mapping[str, str]], labels: Iterable[Mapping[str, str]]
) -> AnswerWords:
    """The words of the three tables together; what they say of answers goes before what they say of cells."""
    shown = [(tidy(line[language]), line["key"]) for line in labels for language in ("en", "fr", "es")]
    said = [(tidy(line["word"]), line["means"]) for line in words]
    picks = [(word, _LABELS_OF_PICKS[key]) for word, key in shown if key in _LABELS_OF_PICKS]
    picks += [(word, RIGHT if means == "no" else means) for word, means in said if means in (*PICKS, "no")]
    of_tags = [(tidy(line["written"]), line["value"]) for line in fates]
    of_tags += [(word, _LABELS_OF_FATES[key]) for word, key in shown if key in _LABELS_OF_FATES]
    of_tags += [(word, means) for word, means in said if means in FATES]
    others = {word: means for word, means in said if means not in (*PICKS, *FATES)}
    return AnswerWords(dict(picks), dict(of_tags), others, {word: key for word, key in reversed(shown) if word})


def says(text: str, meaning: str, words: AnswerWords) -> bool:
    """Whether the whole text is a phrase of that meaning: "none" (no tags were used), "all" (suggestions are right).

    >>> words = answer_words([{"word": "aucune", "means": "none"}], (), ())
    >>> says("Aucune !", "none", words), says("aucune idée", "none", words)
    (True, False)
    """
    return words.others.get(tidy(without_courtesies(text[:LONGEST], words))) == meaning


def begun(text: str, phrases: Mapping[str, str]) -> tuple[str, str]:
    """The longest known phrase that the text begins with, tidied, and what follows it.

    >>> begun("C'est le 14", {"c est": "it is", "c": ""}), begun("14", {})
    (('c est', ' le 14'), ('', '14'))
    """
    ends = [word.end() for word, _ in zip(_WORD.finditer(text), range(MOST_WORDS), strict=False)]
    for end in reversed(ends):
        phrase = tidy(text[:end])
        if phrase in phrases:
            return phrase, text[end:]
    return "", text


def begins(text: str, meaning: str, words: AnswerWords) -> bool:
    """Whether the text begins with a phrase of that meaning.

    >>> begins("mais non", "but", AnswerWords(others={"mais": "but"}))
    True
    """
    return words.others.get(begun(text, words.others)[0]) == meaning


def without_courtesies(typed: str, words: AnswerWords) -> str:
    """The text without please, thanks and sorry around it.

    >>> without_courtesies("Sorry, no idea. Thanks!", AnswerWords(others={"sorry": "courtesy", "thanks": "courtesy"}))
    'no idea.'
    """
    rest = begun(typed, words.others)[1]
    if begins(typed, "courtesy", words) and tidy(rest):
        typed = rest.lstrip(" \n\t,;:.!-")
    starts = [word.start() for word in _WORD.finditer(typed)][1:][-MOST_WORDS:]
    end = next((at for at in starts if words.others.get(tidy(typed[at:])) == "courtesy"), len(typed))
    return typed[:end].rstrip(" \n\t,;-")
