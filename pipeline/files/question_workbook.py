"""Writes questions.xlsx: what one person is asked, their rows, their tags, and help."""

from __future__ import annotations

import io
from collections.abc import Callable, Iterable, Sequence
from datetime import datetime
from typing import Any, NamedTuple

import xlsxwriter

from pipeline.files.asked import Asked, SheetShown
from pipeline.files.labels import labels
from pipeline.files.question_words import file_in_words, help_lines, in_order, pick_lists, shown, where_in_words

# Text and fill of every format; the measured pairs stand in tests/test_question_workbook.py (WCAG 2.x).
INK, PAPER = "#1A1A1A", "#FFFFFF"
MUST_INK, MUST_FILL = "#9A3412", "#FBE3D6"
CHECK_INK, CHECK_FILL = "#005A9C", "#DCEBF7"
GREY_FILL, HEADING_FILL, LINE = "#F2F2F2", "#00664B", "#8C8C8C"

CREATED = datetime(1980, 1, 1)  # one date for all, so that the same questions give the same bytes
LINE_POINTS, ROW_POINTS_MOST = 15.0, 409.0
ANSWER_POINTS = 33.0  # a picked answer takes two lines

QUESTION_COLUMNS = {
    "ref": 10, "number": 5, "row": 8, "tag": 9, "wrote": 15, "wonder": 40, "suggestion": 16,
    "answer": 18, "other": 15, "why": 15, "kind": 13, "file": 15,
}  # fmt: skip
ROW_COLUMNS = {"ref": 10, "status": 16, "row": 8, "file": 24}
OWN_COLUMN_LEAST, OWN_COLUMN_MOST = 8, 26
FATES = ("fate_released", "fate_lost", "fate_spoiled", "fate_not_used", "fate_kept")


class _Pen(NamedTuple):
    """A worksheet with the formats of its workbook and the words of its reader."""

    sheet: Any
    formats: dict[str, Any]
    words: dict[str, str]


def _formats(book: Any) -> dict[str, Any]:
    # Text format and quote prefix keep "=1+1" a text even after it was edited and entered.
    cell = {"text_wrap": True, "valign": "top", "num_format": "@", "quote_prefix": True, "font_color": INK,
            "border": 1, "border_color": LINE}  # fmt: skip
    fill_in = {**cell, "border": 2, "border_color": INK}
    looks = {
        "heading": {**cell, "bold": True, "font_color": PAPER, "bg_color": HEADING_FILL, "valign": "vcenter"},
        "must-answer": {**cell, "bg_color": MUST_FILL},
        "please-check": {**cell, "bg_color": CHECK_FILL},
        "must-answer word": {**cell, "bg_color": MUST_FILL, "font_color": MUST_INK, "bold": True},
        "please-check word": {**cell, "bg_color": CHECK_FILL, "font_color": CHECK_INK, "bold": True},
        "fill in": fill_in,
        "plain": cell,
        "bold": {**cell, "bold": True},
        "neighbour": {**cell, "bg_color": GREY_FILL},
    }
    return {name: book.add_format(look) for name, look in looks.items()}


def _lines_of(text: str, width: float) -> int:
    # Letters are narrower than the figures that a width counts, which makes up for words carried over whole.
    room = max(width - 1, 4)
    if len(text) <= room and "\n" not in text:
        return 1
    return sum(1 + int(max(len(part) - 1, 0) // room) for part in text.split("\n"))


def row_height(texts: Iterable[str], widths: Iterable[float]) -> float:
    """Points that the wrapped texts need in columns of these widths (characters).

    >>> row_height(["Mill Lane"], [20]), row_height(["a longer text, wrapped in two"], [20])
    (18.0, 33.0)
    """
    lines = max(map(_lines_of, texts, widths), default=1)
    return min(lines * LINE_POINTS + 3, ROW_POINTS_MOST)


def _head(pen: _Pen, keys: Iterable[str], widths: Iterable[float], on_every_page: bool = True) -> None:
    texts, widths = [pen.words[key] for key in keys], list(widths)
    for column, (text, width) in enumerate(zip(texts, widths, strict=True)):
        pen.sheet.set_column(column, column, width)
        pen.sheet.write_string(0, column, text, pen.formats["heading"])
    pen.sheet.set_row(0, row_height(texts, [width - 1 for width in widths]) + 3)
    pen.sheet.freeze_panes(1, 0)
    if on_every_page:
        pen.sheet.repeat_rows(0)
    pen.sheet.set_landscape()
    pen.sheet.set_paper(9)
    pen.sheet.fit_to_pages(1, 0)
    pen.sheet.set_margins(left=0.4, right=0.4, top=0.5, bottom=0.6)
    pen.sheet.set_footer("&C" + pen.words["page_of"].format(page="&P", pages="&N"))
    pen.sheet.ignore_errors({"number_stored_as_text": "A1:XFD1048576"})


def _line(pen: _Pen, at: int, texts: Iterable[str], looks: Iterable[str]) -> None:
    # Never `write`, which takes "=1+1" for a formula and "12" for a number.
    for column, (text, look) in enumerate(zip(texts, looks, strict=True)):
        if text:
            pen.sheet.write_string(at, column, text, pen.formats[look])
        else:
            pen.sheet.write_blank(at, column, None, pen.formats[look])


def _pick(pen: _Pen, rows: Sequence[int], column: int, source: str | list[str]) -> None:
    if rows:
        # Nothing typed is refused: "2", "oui" or a sentence are read as well.
        chosen = set(rows)
        firsts = (row for row in rows if row - 1 not in chosen)
        lasts = (row for row in rows if row + 1 not in chosen)
        spans = [[first, column, last, column] for first, last in zip(firsts, lasts, strict=True)]
        options = {"validate": "list", "source": source, "show_error": False, "other_cells": spans[1:]}
        pen.sheet.data_validation(*spans[0], options)


def _questions(pen: _Pen, asked: Asked) -> None:
    _head(pen, QUESTION_COLUMNS, QUESTION_COLUMNS.values())
    words, questions = pen.words, in_order(asked.questions)
    for at, question in enumerate(questions, 1):
        texts = (
            question.ref, str(question.number), where_in_words(question, words), shown(question.tag),
            shown(question.seen), shown(question.wonder), shown(question.suggestion), "", "", "",
            words[question.kind.replace("-", "_")], file_in_words(question.file, question.sheet),
        )  # fmt: skip
        looks = [question.kind] * 7 + ["fill in"] * 3 + [f"{question.kind} word", question.kind]
        _line(pen, at, texts, looks)
        pen.sheet.set_row(at, max(row_height(texts, QUESTION_COLUMNS.values()), ANSWER_POINTS))
    help_sheet, column = words["sheet_help"], list(QUESTION_COLUMNS).index("answer")
    # Not the words themselves: a comma in them would part the list.
    for (first, last), rows in pick_lists(questions, len(help_lines(asked, words))).items():
        _pick(pen, rows, column, f"='{help_sheet}'!$A${first + 2}:$A${last + 2}")


def _own_widths(sheets: Sequence[SheetShown]) -> list[int]:
    tables = [(sheet.headings, *(row.cells for row in sheet.rows)) for sheet in sheets]
    longest: dict[int, int] = {}
    for cells in (cells for table in tables for cells in table):
        for column, text in enumerate(cells):
            longest[column] = max(longest.get(column, 0), len(text) + 2)
    return [min(max(longest[column], OWN_COLUMN_LEAST), OWN_COLUMN_MOST) for column in sorted(longest)]


def _rows(pen: _Pen, asked: Asked) -> None:
    # Which file it is goes without saying where there is only one.
    columns = {key: width for key, width in ROW_COLUMNS.items() if key != "file" or len(asked.sheets) > 1}
    _head(pen, columns, columns.values(), on_every_page=len(asked.sheets) < 2)
    own = _own_widths(asked.sheets)
    for column, width in enumerate(own, len(columns)):
        pen.sheet.set_column(column, column, width)
    widths, at = [*columns.values(), *own], -2
    for sheet in asked.sheets:
        # Another sheet has other columns: its own headings stand above it, after a blank row.
        at += 2
        head = [*(pen.words[key] for key in columns), *map(shown, sheet.headings)]
        _line(pen, at, head, ["heading"] * len(head))
        pen.sheet.set_row(at, row_height(head, [width - 1 for width in widths]) + 3)
        for row in sheet.rows:
            at += 1
            file = [file_in_words(row.file, row.sheet)] * ("file" in columns)
            status = shown(row.status) or pen.words["must_answer" if row.is_asked else "neighbour"]
            texts = [row.ref, status, str(row.row), *file, *map(shown, row.cells)]
            texts += [""] * (len(head) - len(texts))
            look = "plain" if row.is_asked else "neighbour"
            _line(pen, at, texts, ["bold" if row.is_asked else look] * 3 + [look] * (len(texts) - 3))
            pen.sheet.set_row(at, row_height(texts, widths))


def _tags(pen: _Pen, asked: Asked) -> None:
    _head(pen, ("ref", "tag", "fate"), (12, 16, 40))
    for at, tag in enumerate(asked.tags, 1):
        _line(pen, at, (tag.ref, shown(tag.tag), ""), ("plain", "bold", "fill in"))
    _pick(pen, range(1, len(asked.tags) + 1), 2, [pen.words[fate] for fate in FATES])


def _help(pen: _Pen, asked: Asked) -> None:
    _head(pen, ("topic", "meaning"), (30, 104))
    for at, line in enumerate(help_lines(asked, pen.words), 1):
        _line(pen, at, line, ("bold", "plain"))
        pen.sheet.set_row(at, row_height(line, (28, 118)))


SHEETS: tuple[tuple[str, Callable[[_Pen, Asked], None]], ...] = (
    ("sheet_questions", _questions), ("sheet_rows", _rows), ("sheet_tags", _tags), ("sheet_help", _help),
)  # fmt: skip


def write_question_workbook(asked: Asked) -> bytes:
    """The question sheet of one person as the bytes of an .xlsx file, equal for equal questions."""
    words, stream = labels(asked.language), io.BytesIO()
    options = {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False}
    with xlsxwriter.Workbook(stream, options) as book:
        book.set_properties({"title": words["workbook_title"], "author": "", "created": CREATED})
        formats = _formats(book)
        for name, write in SHEETS:
            write(_Pen(book.add_worksheet(words[name]), formats, words), asked)
    return stream.getvalue()
