"""Reads a question sheet that came back: its answers, rows and tags, each line as its sender left it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from typing import NamedTuple

from pipeline.model import BLANK, TEXT, AnswerLine, FileRead, Sheet
from pipeline.values import answer
from pipeline.values.answer_sheet import Head, head_in, head_lost, ref_typed
from pipeline.values.answer_words import OTHER, RIGHT, SUGGESTION, UNKNOWN, AnswerWords
from pipeline.values.ref import LETTERS, is_ref
from pipeline.values.text import is_blank_word, tidy

LOOKED_AT = 200  # rows: a column of Refs shows itself at once
REFS_WITHIN = 40  # rows: with none in so many, a sheet has no column of them
HEADINGS_WITHIN = 20  # rows: somebody may write a title above
NO_WORDS = AnswerWords()
LOST_REF = "?"
# The guard against formulas that a people's CSV puts before a text, to be taken off again or it piles up.
_GUARD = re.compile("'(?=[=@+\\-\t\r\n\x00＝＠＋－])")


_MAY_BE_REF = re.compile(rf"(?<![^\t\n]) *(?:[{LETTERS}] ?){{7}} *(?![^\t\n])", re.IGNORECASE)


class _Row(NamedTuple):
    """A row of a sheet under its headings; `at` counts from 0."""

    sheet: Sheet
    at: int
    head: Head

    def cell(self, column: int) -> tuple[str, str]:
        """Text and kind of a cell, without outer blanks and the guard against formulas."""
        texts, kinds = self.sheet.texts[self.at], self.sheet.kinds[self.at]
        text = texts[column].strip() if 0 <= column < len(texts) else ""
        return (_GUARD.sub("", text, count=1), kinds[column]) if text else ("", BLANK)

    def named(self, key: str) -> tuple[str, str]:
        return self.cell(self.head.columns.get(key, -1))

    def text(self, key: str) -> str:
        return self.named(key)[0]


class _Said(NamedTuple):
    choice: str
    value: str = ""
    kind: str = BLANK
    why: str = ""


def holds_answers(read: FileRead, words: AnswerWords = NO_WORDS) -> bool:
    """Whether a sheet of the file has a column of our Refs, each with its check character: its lines are answers.

    Without words only a first column called Ref is known; with them also one that was moved or lost its heading.
    """
    return any(_is_ours(sheet, words) for sheet in read.sheets)


def _is_ours(sheet: Sheet, words: AnswerWords) -> bool:
    text = "\n".join(map("\t".join, sheet.texts[:REFS_WITHIN]))
    # Most sheets hold no cell that could be a Ref: they need no second look.
    if not any(is_ref(ref_typed(found[0])) for found in _MAY_BE_REF.finditer(text)):
        return False
    for row in sheet.texts[:HEADINGS_WITHIN]:
        head = head_in(row, words)
        if head:
            column = head.columns["ref"]
            return any(is_ref(ref_typed(other[column])) for other in sheet.texts[:LOOKED_AT] if column < len(other))
    return bool(words.labels) and head_lost(sheet.texts[:LOOKED_AT], words) is not None


def answer_lines(read: FileRead, words: AnswerWords) -> tuple[AnswerLine, ...]:
    """Every line of every sheet with Refs: questions, rows of the sender and new ones without a Ref, tags.

    A line left blank is given too; so is one whose Ref is damaged, or lost (`?`), with what it quotes. What became
    of a tag is the `value` of the choice `other`; words that say no such thing are `unread` in both.
    """
    return tuple(line for sheet in read.sheets for line in _lines(sheet, words))


def _lines(sheet: Sheet, words: AnswerWords) -> Iterator[AnswerLine]:
    first = next((at for at, texts in enumerate(sheet.texts) if head_in(texts, words)), -1)
    head = head_in(sheet.texts[first], words) if first >= 0 else head_lost(sheet.texts, words)
    for at, texts in enumerate(sheet.texts):
        if head is None or not any(text.strip() for text in texts):
            continue
        row = _Row(sheet, at, head)
        if tidy(row.text("ref")) == "ref":
            head = head_in(texts, words) or head
        # Sorting may have carried a line above the headings, where else a title stands.
        elif at > first or is_ref(ref_typed(row.text("ref"))):
            yield from _line(row, words)


def _line(row: _Row, words: AnswerWords) -> Iterator[AnswerLine]:
    sheet, ref = row.sheet, ref_typed(row.text("ref"))
    line = AnswerLine(sheet.file, sheet.file_sha256, sheet.name, row.at + 1, row.head.about, ref)
    if row.head.about == "row":
        line = replace(line, cells=_own_cells(row))
        is_said = any(text for _, text, _ in line.cells)
    elif row.head.about == "tag":
        line = _of_a_tag(line, row, words)
        is_said = bool(line.typed)
    else:
        line = _of_a_question(line, row, words)
        is_said = bool(line.typed or line.why)
    if ref or is_said:
        yield line


def _own_cells(row: _Row) -> tuple[tuple[str, str, str], ...]:
    ours, names = set(row.head.columns.values()), row.head.names
    width = max(len(names), len(row.sheet.texts[row.at]))
    cells = [(names[at] if at < len(names) else "", *row.cell(at)) for at in range(width) if at not in ours]
    return tuple(cell for cell in cells if cell[0] or cell[1])


def _of_a_tag(line: AnswerLine, row: _Row, words: AnswerWords) -> AnswerLine:
    typed = row.text("fate")
    fate = answer.fate_of(typed, words)
    is_unknown = fate == answer.UNREAD and answer.choice_of(typed, words) == UNKNOWN
    choice = UNKNOWN if is_unknown else fate if fate in ("", answer.UNREAD) else OTHER
    value = "" if is_unknown else fate
    return replace(line, tag=row.text("tag"), choice=choice, value=value, kind=TEXT if value else BLANK, typed=typed)


def _of_a_question(line: AnswerLine, row: _Row, words: AnswerWords) -> AnswerLine:
    typed, other = row.text("answer"), row.text("other")
    said = _said(row, words)
    number = row.text("number")
    return replace(
        line,
        # A blank Ref would stand for every question, as in "all your suggestions are right".
        ref=line.ref or LOST_REF,
        number=int(number) if number.isascii() and number.isdecimal() and len(number) < 10 else 0,
        choice=said.choice,
        value=said.value,
        kind=said.kind,
        why="; ".join(filter(None, (row.text("why"), said.why))),
        typed=" | ".join(filter(None, (typed, other))),
        tag=row.text("tag"),
        wrote=row.text("wrote"),
        wonder=row.text("wonder"),
    )


def _said(row: _Row, words: AnswerWords) -> _Said:
    """What the answer cell and the cell for another value say together."""
    (typed, kind), (other, other_kind) = row.named("answer"), row.named("other")
    choice, rest = answer.read(typed, words)
    if not typed and answer.choice_of(other, words) == UNKNOWN:
        return _Said(UNKNOWN)
    if not other or is_blank_word(other):
        if choice == answer.UNREAD and rest:
            return _Said(OTHER, rest, kind if rest == typed else TEXT)
        return _Said(choice, rest, TEXT if rest else BLANK) if choice == OTHER else _Said(choice, why=rest)
    is_repeated = choice in (SUGGESTION, RIGHT) and tidy(other) == tidy(row.text(_QUOTED[choice]))
    if is_repeated:
        return _Said(choice, why=rest)
    if choice in ("", OTHER, answer.UNREAD) or words.others.get(tidy(typed)) == "no":
        return _Said(OTHER, other, other_kind)
    # A pick and a value that says otherwise: which of them is meant, only the sender knows.
    return _Said(answer.UNREAD, other, other_kind, rest)


_QUOTED = {SUGGESTION: "suggestion", RIGHT: "wrote"}
