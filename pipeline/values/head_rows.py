"""Headings that stand in two rows: groups above names, units below, a name begun above and ended below."""

from __future__ import annotations

import re
from collections.abc import Callable

from pipeline.values.heading import KEPT, HeadingNames, known_heading
from pipeline.values.text import tidy

Row = tuple[str, ...]
_FIGURE = re.compile(r"\d")
_UNIT = re.compile(r"\s*(?:[(\[].{1,12}[)\]]|mm|cm|mg|g|m|km|°|%|[a-z]/[a-z](?:/[a-z]{1,4})?)\s*", re.IGNORECASE)


def head_at(texts: tuple[Row, ...], at: int, names: HeadingNames, is_first: bool = True) -> tuple[Row, int]:
    """The headings whose row is the one at `at`, joined with those right above or below it, and their last row.

    A row is joined if more fields are known with it than without, or if it holds nothing but units. Above any but the
    first table of a sheet stands another one, whose last record is no heading.

    >>> from pipeline.values.heading import heading_names
    >>> names = heading_names([{"written": "Wing length", "field": "forewingLength", "hint": ""}], [])
    >>> head_at((("Wing", "Sex"), ("length", ""), ("51", "M")), 0, names)
    (('Wing length', 'Sex'), 1)
    """
    alone = _trimmed(texts[at])
    known = _known(alone, names)
    if at + 1 < len(texts) and _may_go_on(texts[at + 1], alone):
        lower = _trimmed(texts[at + 1])
        joined = _joined(alone, lower, lambda text: _is_known(text, names))
        if _known(joined, names) > known or (_are_units(lower) and _known(joined, names) == known):
            return joined, at + 1
    above = texts[at - 1] if at and is_first else ()
    if _are_several(above) and _may_go_on(above, alone) and ":" not in "".join(above):
        joined = _joined(_trimmed(above), alone, lambda text: _is_known(text, names))
        if _known(joined, names) > known:
            return joined, at
    return texts[at], at


def _trimmed(row: Row) -> Row:
    return tuple(text.strip() for text in row)


def _may_go_on(row: Row, beside: Row) -> bool:
    """Whether a row could be headings too: words without a figure, not said twice."""
    filled = [text for text in row if text.strip()]
    is_wordy = bool(filled) and not any(_FIGURE.search(text) for text in filled)
    return is_wordy and _trimmed(row) != beside


def _are_several(row: Row) -> bool:
    return sum(1 for text in row if text.strip()) > 1


def _are_units(row: Row) -> bool:
    filled = [text for text in row if text.strip()]
    return bool(filled) and all(_UNIT.fullmatch(text) for text in filled)


def _joined(upper: Row, lower: Row, is_known: Callable[[str], bool]) -> Row:
    """Column by column what the two rows say together; what stands above a group counts for all its columns."""
    width = max(len(upper), len(lower))
    above, below = (row + ("",) * (width - len(row)) for row in (upper, lower))
    headings, group = [], ""
    for over, under in zip(above, below, strict=True):
        group = over or (group if under else "")
        both = f"{group} {under}".strip()
        if not under or is_known(both):
            headings.append(both if under else over)
        elif is_known(under) or not over:
            headings.append(under)
        else:
            headings.append(over if is_known(over) and _UNIT.fullmatch(under) is None else both)
    return tuple(headings)


def _is_known(text: str, names: HeadingNames) -> bool:
    return bool(text) and bool(known_heading(text, names).field)


def _known(row: Row, names: HeadingNames) -> int:
    """How many fields the row names to the letter; of two-word headings beginning alike each counts once."""
    return len({known_heading(text, names).field for text in row if tidy(text)} - {"", KEPT})
