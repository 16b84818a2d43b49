"""What somebody answered: a pick, a value or a reason, what became of a tag; in English, French or Spanish."""

from __future__ import annotations

import re
from typing import NamedTuple

from pipeline.values.answer_words import (
    LONGEST,
    OTHER,
    PICKS,
    RIGHT,
    SUGGESTION,
    UNKNOWN,
    AnswerWords,
    begins,
    begun,
    says,
    without_courtesies,
)
from pipeline.values.month_names import MONTH_OF_WORD
from pipeline.values.text import fold, is_blank_word, tidy
from pipeline.values.text import read as read_text

UNREAD = "unread"
LONGEST_VALUE = 120  # characters: beyond, it is a tale and no value

_NUMBER = re.compile(r"[(\[\"'«“‘¡¿\s]*([1-4])(?![\w°]|[.,:;/–-]\d)")
_FIGURES = re.compile(r"[\d\s.,:;/()–—-]+")
_ONE_FIGURE = re.compile(r"[(\[\"'«“‘¡¿\s]*([1-4])[\s.,:;)\]\"'»”’!-]*")
# What parts a pick from the words behind it; a minus of a number is no dash.
_JOINT = re.compile(r"\s*(?:[,;:!)\]»”\"]+|\.+(?=\s|$)|[-–—=]+(?=\s(?!\s*\d+[.,]\d)|[^\W\d])|\n|(?=[(\[]))\s*")


class Answer(NamedTuple):
    """What an answer cell says: a pick, `""` or `unread`, and the rest of its words.

    The rest is the value for `other`, the reason for the other picks. Of what could not be read as an answer it is
    the value that the words may be, `""` where they can be none.
    """

    choice: str
    rest: str = ""


def read(text: str, words: AnswerWords) -> Answer:
    """One answer cell, or what stands behind the number of a question.

    >>> from pipeline.values.answer_words import answer_words
    >>> said = {"yes": "suggestion", "right": "right", "other": "other", "no": "no", "no sé": "unknown",
    ...         "it is": "it is", "measured": "because", "but": "but", "thanks": "courtesy"}
    >>> words = answer_words(({"word": word, "means": means} for word, means in said.items()), (), ())
    >>> [read(text, words).choice for text in ("Yes!", "2.", "other", "No se", "?", " ", "14 Sept")]
    ['suggestion', 'right', 'other', 'unknown', 'unknown', '', 'unread']
    >>> tuple(read("No, it is 14 Sept", words)), tuple(read("2 (measured twice)", words))
    (('other', '14 Sept'), ('right', 'measured twice'))
    >>> tuple(read("right hindwing", words)), tuple(read("yes, but not the first", words))
    (('unread', 'right hindwing'), ('unread', ''))
    >>> tuple(read("4 July 2026", words)), tuple(read("yes, no", words)), tuple(read("Yes, thanks", words))
    (('unread', '4 July 2026'), ('unread', ''), ('suggestion', ''))
    """
    typed = read_text(text).value
    if not tidy(typed):
        return Answer(_of_signs(typed))
    if len(typed) > LONGEST:
        return Answer(UNREAD)
    if tidy(typed) not in words.picks:
        typed = without_courtesies(typed, words)
    figure = _ONE_FIGURE.fullmatch(fold(typed))
    if figure:
        return Answer(PICKS[int(figure[1]) - 1])
    return _by_number(typed, words) or _in_words(typed, words)


def choice_of(text: str, words: AnswerWords) -> str:
    """What one answer cell picks: suggestion, right, other, unknown, `""` for blank, unread for anything else."""
    return read(text, words).choice


def fate_of(text: str, words: AnswerWords) -> str:
    """What became of a tag: released, lost, spoiled, not used, kept, `""` for blank, unread for anything else.

    >>> from pipeline.values.answer_words import FATES, answer_words
    >>> words = answer_words(({"word": word, "means": word} for word in FATES), (), ())
    >>> [fate_of(text, words) for text in ("Released", "lost, in the marsh", "not used.", "kept", "spoiled", "")]
    ['released', 'lost', 'not used', 'kept', 'spoiled', '']
    >>> fate_of("given to Anna", words), fate_of("lost and found", words)
    ('unread', 'unread')
    """
    typed = read_text(text).value
    if not tidy(typed):
        return _of_signs(typed).replace(UNKNOWN, UNREAD)
    phrase, rest = begun(typed[:LONGEST], words.fates)
    is_apart = not tidy(rest) or (_JOINT.match(rest) and not begins(rest, "but", words))
    return words.fates[phrase] if phrase and is_apart else UNREAD


def takes_out(text: str, words: AnswerWords) -> bool:
    """Whether the text asks us to take the row out.

    >>> from pipeline.values.answer_words import answer_words
    >>> words = answer_words([{"word": "remove", "means": "take out"}], (), ())
    >>> takes_out("Remove.", words), takes_out("remove the second wing", words), takes_out("", words)
    (True, False, False)
    """
    return says(text, "take out", words)


def begins_with_month(text: str) -> bool:
    """Whether the first word is the name of a month, so that a number before it is a day.

    >>> begins_with_month("Sept 2026"), begins_with_month("yes"), begins_with_month("")
    (True, False, False)
    """
    first = fold(text).partition(" ")[0].strip(".,")
    return len(first) > 2 and first in MONTH_OF_WORD


def _of_signs(typed: str) -> str:
    if "?" in typed:
        return UNKNOWN
    return "" if not typed or is_blank_word(typed) else UNREAD


def _value(typed: str, words: AnswerWords) -> str:
    """The value that words may be which are no pick, without "it is" before it; "" where they can be none."""
    if begins(typed, "it is", words):
        typed = begun(typed, words.others)[1].strip(" ,:")
    is_none = len(typed) > LONGEST_VALUE or is_blank_word(typed) or words.others.get(tidy(typed)) == "courtesy"
    return "" if is_none else typed


def _by_number(typed: str, words: AnswerWords) -> Answer | None:
    number = _NUMBER.match(typed)
    if not number:
        return None
    pick, rest = PICKS[int(number[1]) - 1], typed[number.end() :]
    joint = _JOINT.match(rest)
    mark, after = (joint[0].strip() if joint else ""), rest[joint.end() if joint else 0 :]
    is_named = mark in (":", ")", "=")
    # "3. 9. 2026" and "3 - Sept" are days, "2 - 4" is a span.
    if _FIGURES.fullmatch(after) and not (pick == OTHER and is_named):
        return Answer(UNREAD, _value(typed, words))
    if begins_with_month(after) and not is_named:
        return Answer(UNREAD, _value(typed, words))
    return _joined(Answer(pick, rest), joint is not None, typed, words)


def _in_words(typed: str, words: AnswerWords) -> Answer:
    phrase, rest = begun(typed, words.picks)
    if not phrase:
        return Answer(UNREAD, _value(typed, words))
    pick = "no" if words.others.get(phrase) == "no" else words.picks[phrase]
    if not tidy(rest):
        return Answer(RIGHT if pick == "no" else pick)
    # "I do not know the day" goes on, "unknown species" is a value.
    is_apart = _JOINT.match(rest) is not None or (pick in (OTHER, UNKNOWN) and " " in phrase)
    return _joined(Answer(pick, rest), is_apart, typed, words)


def _joined(begun_with: Answer, is_apart: bool, typed: str, words: AnswerWords) -> Answer:
    """A pick with more words behind it: the same said again, a value, a reason, or something that takes it back."""
    pick, rest = begun_with
    joint = _JOINT.match(rest)
    rest = (rest[joint.end() :] if joint else rest).strip()
    if rest.startswith("(") and rest.endswith(")"):
        rest = rest[1:-1].strip()
    again = _in_words(rest, words)
    if again.choice in PICKS and (pick != OTHER or again.choice == UNKNOWN):
        goes_on = again.choice == pick or (pick == "no" and again.choice != SUGGESTION) or pick == OTHER
        return again if goes_on else Answer(UNREAD)
    if begins(rest, "but", words):
        return Answer(UNREAD)
    said = f" {tidy(rest)} "
    if pick != OTHER and any(means == "because" and f" {word} " in said for word, means in words.others.items()):
        return Answer(RIGHT if pick == "no" else pick, rest)
    if pick != UNKNOWN and begins(rest, "it is", words):
        value = begun(rest, words.others)[1].strip(" ,:")
        return Answer(OTHER, value) if value else Answer(UNREAD)
    is_figure = rest[:1].isdigit()
    if is_figure and pick in ("no", OTHER, SUGGESTION):
        return Answer(OTHER, rest)
    if not is_apart:
        return Answer(UNREAD, _value(typed, words))
    return Answer(OTHER if pick == "no" else pick, rest)
