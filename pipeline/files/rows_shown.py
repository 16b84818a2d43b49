"""The rows that somebody is asked about as they were sent, each with the row before and after."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from pipeline.files.asked import Question, RowShown, SheetShown
from pipeline.model import Table
from pipeline.values.ref import ref_of

SHOWN_OF_BLOCK = 5  # rows of a gathered question that are shown with their neighbours
Tables = Mapping[tuple[str, str], Sequence[Table]]  # by SHA-256 of the file and sheet


def sheets_of(questions: Sequence[Question], sheets: Tables, words: Mapping[str, str]) -> tuple[SheetShown, ...]:
    """The rows asked about as the sender wrote them, each with the row before and after."""
    asked: dict[tuple[str, str], dict[int, list[Question]]] = {}
    for question in questions:
        for row in question.rows[:SHOWN_OF_BLOCK]:
            asked.setdefault((question.file_sha256, question.sheet), {}).setdefault(row, []).append(question)
    return tuple(_sheet(table, rows, words) for place, rows in asked.items() for table in _whole(sheets.get(place, ())))


def _whole(tables: Sequence[Table]) -> list[Table]:
    """The tables with those put together again that share their rows, for they are shown as they were sent."""
    whole: dict[int, Table] = {}
    for table in tables:
        first = whole.setdefault(table.heading_row, table)
        columns = {heading.column: heading for heading in (*table.headings, *first.headings)}
        headings = tuple(heading for _, heading in sorted(columns.items()))
        whole[table.heading_row] = replace(
            first,
            headings=headings,
            first_row=min(first.first_row, table.first_row),
            last_row=max(first.last_row, table.last_row),
        )
    return list(whole.values())


def _sheet(table: Table, asked: Mapping[int, Sequence[Question]], words: Mapping[str, str]) -> SheetShown:
    near = sorted(
        {row + step for row in asked for step in (-1, 0, 1)} & set(range(table.first_row, table.last_row + 1))
    )
    rows = tuple(_row(table, row, asked.get(row, ()), words) for row in near)
    by_column = {heading.column: heading.written for heading in table.headings}
    return SheetShown(
        table.sheet.file,
        table.sheet.name,
        tuple(by_column.get(column, "") for column in _columns(table)),
        rows,
    )


def _columns(table: Table) -> range:
    columns = [heading.column for heading in table.headings]
    return range(min(columns), max(columns) + 1)


def _row(table: Table, row: int, questions: Sequence[Question], words: Mapping[str, str]) -> RowShown:
    texts = table.sheet.texts[row - 1]
    cells = tuple(texts[column] if column < len(texts) else "" for column in _columns(table))
    kinds = {question.kind for question in questions}
    status = words["must_answer"] if "must-answer" in kinds else words["please_check"] if kinds else ""
    ref = ref_of(f"row|{table.sheet.file_sha256}|{table.sheet.name}|{row}")
    return RowShown(ref, status, table.sheet.file, table.sheet.name, row, cells, bool(questions))
