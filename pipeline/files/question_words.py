"""What question sheets and letters have in common: how a question, a row, a user's text is put."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from itertools import pairwise

from pipeline.files.asked import Asked, Question

CELL_CHARACTERS_MOST = 32_000  # a spreadsheet cell holds 32,767
USE_SUGGESTION, RIGHT_AS_IT_IS, OTHER_VALUE, DO_NOT_KNOW = PICKS = (
    "use_suggestion", "right_as_it_is", "other_value", "do_not_know"
)  # 1 to 4, as they may be typed  # fmt: skip
TOPICS = ("how", "kinds", "return", "rows", "tags", "one_code", "sex", "finds", "care", "permit")

# Not allowed in a workbook or changing the order of reading: control, half and bidirectional characters.
_UNSHOWN = re.compile("[\x00-\x08\x0b-\x1f\x7f\u202a-\u202e\u2066-\u2069\ud800-\udfff\ufffe\uffff]")


def shown(text: str) -> str:
    """A user's text without the characters that no sheet or letter may carry."""
    return (_UNSHOWN.sub("", text) if _UNSHOWN.search(text) else text)[:CELL_CHARACTERS_MOST]


def file_in_words(file: str, sheet: str) -> str:
    """The file without its folders, as its sender knows it; on a second line the sheet, if named."""
    return "\n".join(filter(None, (shown(file.rpartition("/")[2]), shown(sheet))))


def rows_in_words(rows: Sequence[int], more: str = "") -> str:
    """Row numbers with runs drawn together, `more` after the first dozen of runs.

    >>> rows_in_words((12, 13, 14, 20))
    '12-14, 20'
    """
    breaks = [0, *(i for i, (a, b) in enumerate(pairwise(rows), 1) if b != a + 1), len(rows)]
    runs = [rows[a:b] for a, b in pairwise(breaks) if a < b]
    words = [str(run[0]) if len(run) == 1 else f"{run[0]}-{run[-1]}" for run in runs[:12]]
    return ", ".join([*words, more] if len(runs) > 12 and more else words)


def where_in_words(question: Question, words: dict[str, str]) -> str:
    """The rows that a question is about, in a few words: "12", "3 rows: 12-14", "The whole sheet"."""
    if question.n_rows > 1:
        rows = rows_in_words(question.rows, words["more_rows"])
        return words["where_rows"].format(n=question.n_rows, rows=rows).removesuffix(": ")
    if question.row:
        return str(question.row)
    return words["where_sheet"] if question.sheet else words["where_file"]


def in_order(questions: Iterable[Question]) -> list[Question]:
    """The questions that block first, then by the number that stays theirs."""
    return sorted(questions, key=lambda question: (question.kind != "must-answer", question.number))


def picks(question: Question) -> list[str]:
    """The answers that a question offers, in the order of their numbers."""
    offered = {USE_SUGGESTION: bool(question.suggestion), RIGHT_AS_IT_IS: question.is_waivable}
    return [pick for pick in PICKS if offered.get(pick, True)]


def help_lines(asked: Asked, words: dict[str, str]) -> list[tuple[str, str]]:
    """Word and explanation, the four answers first: the pick lists point at them.

    The answers to a suggestion that cannot be right and wrong at once stand apart, at the end.
    """
    answers = [(words[pick], words[f"help_{pick}"]) for pick in PICKS]
    topics = [(words[f"topic_{topic}"], words[f"help_{topic}"]) for topic in TOPICS]
    privacy = (words["topic_privacy"], words["privacy"])
    contact = "\n".join(filter(None, (asked.signed_by, asked.programme_name, asked.contact)))
    lines = [*answers, *topics, privacy, (words["topic_contact"], shown(contact))]
    if not any(question.suggestion and not question.is_waivable for question in asked.questions):
        return lines
    fewer = [answer for pick, answer in zip(PICKS, answers, strict=True) if pick != RIGHT_AS_IT_IS]
    return [*lines, (words["topic_fewer"], words["help_fewer"]), *fewer]


def pick_lists(questions: Sequence[Question], n_lines: int) -> dict[tuple[int, int], list[int]]:
    """By first and last line of Help, counted from 0: the questions, counted from 1, that offer these answers."""
    lines = {
        (True, True): (0, 3),
        (False, True): (1, 3),
        (False, False): (2, 3),
        (True, False): (n_lines - 3, n_lines - 1),
    }
    lists: dict[tuple[int, int], list[int]] = {}
    for at, question in enumerate(questions, 1):
        lists.setdefault(lines[bool(question.suggestion), question.is_waivable], []).append(at)
    return lists
