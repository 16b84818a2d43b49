"""Tells a question sheet that came back from a sheet about butterflies."""

from __future__ import annotations

from pipeline.model import FileRead
from pipeline.values.ref import is_ref

LOOKED_AT = 200  # rows: a column of Refs shows itself at once


def holds_answers(read: FileRead) -> bool:
    """Whether a sheet of the file begins with our Refs, each with its check character: its lines are answers."""
    return any(_begins_with_refs(sheet.texts[:LOOKED_AT]) for sheet in read.sheets)


def _begins_with_refs(texts: tuple[tuple[str, ...], ...]) -> bool:
    cells = [row[0].strip() if row else "" for row in texts]
    return cells[:1] == ["Ref"] and any(is_ref(cell) for cell in cells[1:])
