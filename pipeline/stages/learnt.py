"""What was answered about a heading holds for every sheet of the same person that is laid out like that one."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from pipeline.model import Table
from pipeline.values.text import tidy

Place = tuple[str, str]  # SHA-256 of the file, sheet


def with_learnt(
    tables: Sequence[Table], by_sheet: Mapping[int, str], answered: Mapping[Place, Mapping[str, str]]
) -> dict[Place, Mapping[str, str]]:
    """The answers about headings (by file and sheet: as written, field), and what follows from them for other sheets.

    A sheet is laid out like another if it has every heading of it; a later answer goes before an earlier one, and an
    answer about the sheet itself before all others. `by_sheet` is the person of each table, by its place in `tables`.
    """
    known: dict[str, list[tuple[frozenset[str], dict[str, str]]]] = {}
    for number, table in enumerate(tables):
        named = answered.get((table.sheet.file_sha256, table.sheet.name))
        if named and by_sheet[number]:
            fields = {tidy(heading): field for heading, field in named.items()}
            known.setdefault(by_sheet[number], []).append((_layout(table), fields))
    follows: dict[Place, Mapping[str, str]] = {}
    for number, table in enumerate(tables):
        learnt: dict[str, str] = {}
        for layout, fields in known.get(by_sheet[number], ()):
            learnt |= fields if layout <= _layout(table) else {}
        own = {
            heading.written: learnt[tidy(heading.written)]
            for heading in table.headings
            if tidy(heading.written) in learnt
        }
        if own:
            follows[table.sheet.file_sha256, table.sheet.name] = own
    return {**follows, **answered}


def _layout(table: Table) -> frozenset[str]:
    return frozenset(tidy(heading.written) for heading in table.headings if heading.written.strip())
