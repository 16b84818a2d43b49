"""Which of the files that came are answers, and what rows about butterflies stand among the answers."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from pipeline.files.schemas import answer_words
from pipeline.model import BLANK, TEXT, AnswerLine, FileRead, Sheet
from pipeline.stages.answers import answer_lines, holds_answers
from pipeline.stages.replies import holds_reply, reply_lines

REPLY, QUESTION_SHEET = "a reply to our questions", "a question sheet that came back"


def with_replies(reads: Iterable[FileRead]) -> list[FileRead]:
    """The files as read, answers told as what they are; the lines of a reply are the rows of its only sheet."""
    return [_told(read) for read in reads]


def _told(read: FileRead) -> FileRead:
    if read.text and holds_reply(read.text, answer_words()):
        return _as_reply(read)
    return replace(read, what=QUESTION_SHEET) if holds_answers(read, answer_words()) else read


def _as_reply(read: FileRead) -> FileRead:
    texts = tuple((line,) if line else () for line in read.text.splitlines())
    kinds = tuple(TEXT * len(row) for row in texts)
    return replace(read, sheets=(Sheet(read.file, read.file_sha256, "", texts, kinds),), refusal="", what=REPLY)


def is_returned(read: FileRead) -> bool:
    """Whether the file is an answer, so that its lines are no rows about butterflies."""
    return read.what in (REPLY, QUESTION_SHEET)


def lines_in(read: FileRead) -> tuple[AnswerLine, ...]:
    """The answer lines of a file that holds any."""
    if read.what == REPLY:
        text = "\n".join(row[0] if row else "" for row in read.sheets[0].texts)
        return reply_lines(text, read.file, read.file_sha256, answer_words())
    return answer_lines(read, answer_words())


def about_butterflies(reads: Iterable[FileRead]) -> tuple[FileRead, ...]:
    """The files with rows about butterflies; of a question sheet only what somebody added to *Your rows*."""
    return tuple(
        replace(read, sheets=_added(read, lines_in(read))) if is_returned(read) else read
        for read in reads
        if not is_returned(read) or _added(read, lines_in(read))
    )


def _added(read: FileRead, lines: Sequence[AnswerLine]) -> tuple[Sheet, ...]:
    """A sheet for each page with lines that have no Ref: these under their headings, each in its own row."""
    by_sheet: dict[str, list[AnswerLine]] = {}
    for line in lines:
        if line.about == "row" and not line.ref and any(text.strip() for _, text, _ in line.cells):
            by_sheet.setdefault(line.sheet, []).append(line)
    return tuple(_sheet(read, name, added) for name, added in by_sheet.items())


def _sheet(read: FileRead, name: str, added: Sequence[AnswerLine]) -> Sheet:
    texts: list[tuple[str, ...]] = [()] * max(line.row for line in added)
    kinds = [""] * len(texts)
    for line in added:
        texts[line.row - 1] = tuple(text for _, text, _ in line.cells)
        kinds[line.row - 1] = "".join(kind or BLANK for _, _, kind in line.cells)
        # The row above is one that came back with its Ref: its place is free for the headings.
        if line.row > 1 and not texts[line.row - 2]:
            texts[line.row - 2] = tuple(heading for heading, _, _ in line.cells)
            kinds[line.row - 2] = TEXT * len(line.cells)
    return Sheet(read.file, read.file_sha256, name, tuple(texts), tuple(kinds))
