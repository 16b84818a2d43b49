"""What is said once above a table and holds for all its rows: `Name: Anna`, `Town` beside `Truro`."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from pipeline.values.heading import KEPT, HeadingNames, known_heading

Rows = Sequence[tuple[str, ...]]
Given = dict[str, tuple[str, int, int]]


def title_rows(texts: Rows, start: int, end: int, names: HeadingNames) -> list[int]:
    """Indexes of the rows right above a further heading that say what holds for the table below it.

    Only a label with a colon counts: anything less may be a record of the table above.
    """
    titles: list[int] = []
    for i in range(end - 1, start - 1, -1):
        first = next((text for text in texts[i] if text.strip()), "")
        if first and (":" not in first or not any(_labelled(texts[i], names))):
            break
        if first:
            titles.insert(0, i)
    return titles


def given_once(texts: Rows, titles: Iterable[int], names: HeadingNames) -> Given:
    """What the title rows say: field to (text, row from 1, column from 0); the first said holds."""
    given: Given = {}
    for i in titles:
        for field, text, column in _labelled(texts[i], names):
            given.setdefault(field, (text, i + 1, column))
    return given


def _labelled(row: tuple[str, ...], names: HeadingNames) -> Iterator[tuple[str, str, int]]:
    """Pairs of a known heading and its value, in one cell (`Town: Truro`) or in two beside each other."""
    for column, text in enumerate(row):
        label, _, value = text.partition(":")
        field = known_heading(label, names).field if label.strip() else ""
        if not field or field == KEPT:
            continue
        beside = row[column + 1].strip() if column + 1 < len(row) else ""
        if value.strip():
            yield field, value.strip(), column
        elif beside and not known_heading(beside, names).field:
            yield field, beside, column + 1
