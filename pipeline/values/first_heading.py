"""Where the first heading row of a sheet is: found, not assumed."""

from __future__ import annotations

from collections.abc import Sequence

from pipeline.model import Sheet
from pipeline.values.heading import KEPT, HeadingNames, match_heading
from pipeline.values.heading_row import fields_known

DEPTH = 30  # rows looked through for the first heading row
SURE = 3  # known headings in one row, with more known than unknown


def first_heading(sheet: Sheet, names: HeadingNames) -> int:
    """Index of the row with the most known headings, -1 if none; a row that is surely one ends the search."""
    best, most = -1, 0
    for i, row in enumerate(sheet.texts[:DEPTH]):
        known = {field for _, field in fields_known(row, names)}
        if len(known) < 2 and not _is_only_heading(sheet, i, names):
            continue
        filled = sum(1 for text in row if text.strip())
        if len(known) >= SURE and len(known) * 2 > filled:
            return i if "tagCode" in known else _heading_below(sheet.texts, i, names)
        is_share = len(known) >= SURE or len(known) * 3 >= filled
        if len(known) > most and is_share and not _holds_data(row, sheet.kinds[i]):
            best, most = i, len(known)
    return best if best >= 0 else _near_heading(sheet, names)


def _heading_below(texts: Sequence[tuple[str, ...]], i: int, names: HeadingNames) -> int:
    """The row at `i`, or a heading row with the tag close below where `i` only holds labels."""
    filled = [j for j in range(i + 1, min(i + DEPTH, len(texts))) if any(text.strip() for text in texts[j])]
    for j in filled[:2]:
        known = {field for _, field in fields_known(texts[j], names)}
        if "tagCode" in known and len(known) >= SURE:
            return j
    return i


def _is_only_heading(sheet: Sheet, i: int, names: HeadingNames) -> bool:
    """The row is the one heading of a sheet with a single column."""
    known = fields_known(sheet.texts[i], names)
    column = known[0][0] if known else -1
    return known[:1] == ((column, "tagCode"),) and not any(
        text.strip() for row in sheet.texts for j, text in enumerate(row) if j != column
    )


def _near_heading(sheet: Sheet, names: HeadingNames) -> int:
    """Index of the first row most of whose cells are at least near to headings."""
    for i, row in enumerate(sheet.texts[:DEPTH]):
        texts = [text for text in row if text.strip()]
        if len(texts) < 2 or _holds_data(row, sheet.kinds[i]):
            continue
        fields = {match_heading(text, names).field for text in texts} - {"", KEPT}
        if len(fields) >= 2 and len(fields) * 2 > len(texts):
            return i
    return -1


def _holds_data(row: tuple[str, ...], kinds: str) -> bool:
    return any(kind in "ndc" or text.strip()[:1].isdigit() for text, kind in zip(row, kinds, strict=False))
