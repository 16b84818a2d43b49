"""Reads a reply in plain text: "1 yes, 2 no it is 14 Sept, 3 I do not know", in English, French or Spanish."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace
from itertools import pairwise

from pipeline.model import TEXT, AnswerLine
from pipeline.values.answer import UNREAD, choice_of
from pipeline.values.answer_words import OTHER, SUGGESTION, AnswerWords, says
from pipeline.values.reply import Item, items, only_answer, own_lines

SHORT = 12  # lines: in a note of fewer one answer tells what it is
LONGEST_REPLY, MOST_LINES = 200_000, 500  # characters and lines: beyond, it is a table
# How many of a sign on two lines that follow each other make a table of them; commas stand in sentences too.
_DELIMITERS = {",": 3, ";": 2, "\t": 2, "|": 2}
_LIKE_A_CODE = re.compile(r"\b(?:[A-Za-z]{1,3}[- ]?\d{3,}|\d[A-Za-z]\d{3,})\b")

Line = tuple[int, str]  # number and text


def reply_lines(text: str, file: str, file_sha256: str, words: AnswerWords) -> tuple[AnswerLine, ...]:
    """The answers of a reply, each a question by its number or Ref; `row` is the line of the text.

    "All your suggestions are right" has neither and is the suggestion for every open question; NONE says that no
    tags were used; a tag named by its code has `tag`, and what became of it is the `value` of the choice `other`.
    A bare "yes" is about the `only` question there is. What is quoted is not read.
    """
    found: list[AnswerLine] = []
    own = list(own_lines(text, words))
    for row, line in own:
        whole = AnswerLine(file, file_sha256, "", row, "question", typed=line.strip())
        if says(line, "none", words):
            found.append(replace(whole, about="none"))
        elif says(line, "all", words):
            found.append(replace(whole, choice=SUGGESTION))
        else:
            found.extend(_answered(whole, item) for item in items(line, words))
    only = "" if found else only_answer([line for _, line in own], words)
    for row, line in own if only else ():
        if line == only:
            choice = choice_of(only, words)
            found.append(AnswerLine(file, file_sha256, "", row, "only", choice=choice, typed=only.strip()))
    return tuple(found)


def _answered(line: AnswerLine, item: Item) -> AnswerLine:
    choice, rest = item.said
    line = replace(line, number=item.number, ref=item.ref, typed=item.typed)
    if item.tag:
        line = replace(line, about="tag", tag=item.tag)
    if choice == OTHER or (choice == UNREAD and rest):
        return replace(line, choice=OTHER, value=rest, kind=TEXT if rest else line.kind)
    return replace(line, choice=choice, why=rest)


def holds_reply(text: str, words: AnswerWords) -> bool:
    """Whether a text is a reply to our questions rather than a table of butterflies; in doubt it is a table."""
    if len(text) > LONGEST_REPLY or len(text.splitlines()) > MOST_LINES:
        return False
    if _is_table(own_lines(text, words), words):
        return False
    lines = [line for _, line in own_lines(text, words)]
    whole = [says(line, "none", words) or says(line, "all", words) for line in lines]
    of_lines = [items(line, words) for line in lines]
    found = [item for of_line in of_lines for item in of_line]
    is_short = len(lines) < SHORT
    # Numbers with any text behind them may be the rows of a table.
    is_plain = any(whole) or any(item.is_plain and not item.tag for item in found)
    # So may be codes with what became of them, but not of a tag that no butterfly carries.
    is_plain = is_plain or all(item.tag and item.said.rest != "released" for item in found)
    is_likely = is_short and not any(item.tag or _LIKE_A_CODE.search(item.said.rest) for item in found)
    if not found and not any(whole):
        return bool(only_answer(lines, words))
    if not (is_plain or is_likely):
        return False
    answered = sum(whole) + sum(map(bool, of_lines))
    return answered * 2 >= len(lines) or (is_short and (any(whole) or any(item.begins_line for item in found)))


def _is_table(lines: Iterable[Line], words: AnswerWords) -> bool:
    return any(
        above[0] + 1 == below[0] and _is_cut_alike(above[1], below[1], sign, words)
        for above, below in pairwise(lines)
        for sign in _DELIMITERS
    )


def _is_cut_alike(above: str, below: str, sign: str, words: AnswerWords) -> bool:
    """Whether two lines have the same number of a delimiter; "1 yes, 2 no, 3 yes, 4 no" is none of a table's."""
    many = above.count(sign)
    if many < _DELIMITERS[sign] or below.count(sign) != many:
        return False
    return not all(len(items(line, words)) > many for line in (above, below))
