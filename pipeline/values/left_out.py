"""Which rows below a heading are no records: totals, notes, section headings, the heading said again.

Leaving out a record is worse than keeping a line that is none: whatever holds a value in a needed
column is a record.
"""

from __future__ import annotations

import re
from typing import NamedTuple

from pipeline.model import FORMULA, NUMBER, TEXT
from pipeline.values.text import tidy

REPEATED, TOTAL, NOTE, SECTION = "repeated heading", "total", "note", "section heading"

PROSE = 4  # words
_TOTAL = re.compile(
    r"(?:(?:grand |sub ?|sous |overall )?(?:total|totals|totales|totaux)(?: .*)?"
    r"|sum|count|counts|average|averages|avg|mean|median|min|max|minimum|maximum|std|sd"
    r"|(?:average|mean|sum|count) of .*|nombre total|somme|moyenne|mediane|ecart type"
    r"|suma|media|mediana|promedio|conteo|recuento|cuenta|numero total)(?: \d+(?: \d+)?)?"
)
_ALSO_NAMES = frozenset({"max", "min", "media"})
_NOTE = re.compile(
    r"notes?|n ?b|p ?s|remarks?|remarques?|notas?|legend|legende|leyenda|key|cle|clave|comments?"
    r"|commentaires?|comentarios?|duplicates?"
)
_SIDE = re.compile(r"(?:begin|end|start|debut|fin|inicio|final)\b")
_CODE_LIKE = re.compile(r"[A-Za-z][- ]?\d{3}|(?!(?:19|20)\d\d\b)\b\d{4}")
_FIGURE = re.compile(r"\d")
_NUMBER = re.compile(r"[-+]?[\d\s.,%]+")


class Plan(NamedTuple):
    """What a row is held against: the heading's cells, and the columns that make a row a record."""

    headings: dict[int, str]  # column: heading as written
    tag: int  # column, -1 where there is none
    day: int
    needed: frozenset[int]
    names: frozenset[int]  # columns of places and people, whose words may read like prose or a total


def why_left_out(row: tuple[str, ...], kinds: str, plan: Plan) -> str:
    """The reason why a row is no record, "" if it is one or holds nothing.

    >>> plan = Plan({0: "Tag", 1: "Date", 2: "Notes"}, 0, 1, frozenset({0, 1}), frozenset())
    >>> why_left_out(("Total", "25", ""), "tn-", plan), why_left_out(("Total", "3 Sept"), "tt", plan)
    ('total', '')
    >>> why_left_out(("We saw many more there",), "t", plan), why_left_out(("none",), "t", plan)
    ('note', '')
    """
    filled = [column for column, text in enumerate(row) if text and not text.isspace()]
    if not filled:
        return ""
    if _says_heading(row, filled, plan.headings):
        return REPEATED
    first = tidy(row[filled[0]])
    if _TOTAL.fullmatch(first) and _are_figures(row, kinds, filled[1:]):
        return "" if filled[0] in plan.names and first in _ALSO_NAMES else TOTAL
    if _is_note(row, filled, plan):
        return NOTE
    if len(filled) == 1 and kinds[filled[0] : filled[0] + 1] == TEXT:
        return _why_alone(row[filled[0]].strip(), filled[0], plan)
    return ""


def _says_heading(row: tuple[str, ...], filled: list[int], headings: dict[int, str]) -> bool:
    same = sum(1 for column in filled if row[column].strip() == headings.get(column))
    return same * 2 > len(filled) and (same > 1 or len(headings) == 1)


def _is_note(row: tuple[str, ...], filled: list[int], plan: Plan) -> bool:
    """The row begins with a word for a note, and no needed column after it holds any figure."""
    label, colon, _ = row[filled[0]].partition(":")
    if not _NOTE.fullmatch(tidy(label)) or (filled[0] in plan.names and not colon):
        return False
    return not any(_FIGURE.search(row[column]) for column in filled[1:] if column in plan.needed)


def _are_figures(row: tuple[str, ...], kinds: str, columns: list[int]) -> bool:
    return all(
        kinds[column : column + 1] in (NUMBER, FORMULA) or _NUMBER.fullmatch(row[column].strip()) for column in columns
    )


def _why_alone(text: str, column: int, plan: Plan) -> str:
    """Why a text that stands alone in its row is no record."""
    if text.startswith("*"):
        return NOTE
    words = text.split()
    holds_figures = bool(_FIGURE.search(text))
    is_needed = column in plan.needed
    if column in plan.names or _CODE_LIKE.search(text) or (holds_figures and is_needed and column != plan.tag):
        return ""
    if len(words) >= PROSE:
        return NOTE
    if not is_needed or _SIDE.match(tidy(text)):
        return SECTION
    return SECTION if column == plan.tag and len(words) > 1 and not holds_figures else ""
