"""Answers about other things than a cell in question: *Your rows*, *Your tags*, files and headings."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import NamedTuple

from pipeline.files.asked_before import values_of
from pipeline.files.asking import tag_ref
from pipeline.files.ledger import kept_sheets
from pipeline.files.schemas import heading_names
from pipeline.model import TEXT, AnswerLine, Heading, Table
from pipeline.season import Season
from pipeline.stages.decide import Asked, Cell, Decision
from pipeline.stages.decide import outcomes as said
from pipeline.stages.decide.outcomes import COORDINATOR
from pipeline.stages.map_headings import map_headings
from pipeline.values.heading import match_heading
from pipeline.values.ref import ref_of
from pipeline.values.site import site_point
from pipeline.values.text import tidy


class Place(NamedTuple):
    """Where a row stands that a line of *Your rows* is about, and its keys."""

    keys: dict[str, str]  # by part: of several butterflies in a row each has its own
    sha256: str
    sheet: str
    row: int


def tags_of_person(season: Season, person: str) -> dict[str, str]:
    """By Ref: the tags of the season that were handed to a person."""
    label = season.programme.settings.season.label
    return {
        tag_ref(person, code): code
        for line in season.programme.tags
        if line.person_id == person and line.season == label
        for code in line.codes
    }


def row_ref(sha256: str, sheet: str, row: int) -> str:
    """The Ref of a row on *Your rows*."""
    return ref_of(f"row|{sha256}|{sheet}|{row}")


def tables_of_rows(season: Season, lines: Sequence[AnswerLine], sender: str) -> list[Decision]:
    """What becomes of each line of *Your rows*: the cells that its sender changed there are answers too."""
    edited = [line for line in lines if line.ref]
    if not edited:
        return []
    own = _rows_of(season, sender)
    others = {} if all(line.ref in own for line in edited) else _rows_of(season, COORDINATOR)
    tables = _tables(season, {own[line.ref].sha256 for line in edited if line.ref in own} | _of_others(edited, others))
    decisions = []
    for line in edited:
        place = own.get(line.ref) or others.get(line.ref)
        if place is None:
            decisions.append(Decision(line, said.NO_QUESTION))
            continue
        edits = _edits(season, line, place, tables.get((place.sha256, place.sheet), ()))
        decisions += edits if line.ref in own else [replace(one, outcome=said.NOT_THEIRS) for one in edits[:1]]
    return decisions


def _of_others(lines: Iterable[AnswerLine], others: Mapping[str, Place]) -> set[str]:
    return {others[line.ref].sha256 for line in lines if line.ref in others}


def _rows_of(season: Season, sender: str) -> dict[str, Place]:
    """By Ref: every row that a person ever sent, in all its versions; for the coordinator everybody's."""
    query = "SELECT key, part, file_sha256, sheet, row FROM rows WHERE key != ''"
    if sender != COORDINATOR:
        query += " AND person_id = ?"
    rows = season.ledger.execute(query, () if sender == COORDINATOR else (sender,))
    places: dict[str, Place] = {}
    for key, part, sha256, sheet, row in rows:
        places.setdefault(row_ref(sha256, sheet, row), Place({}, sha256, sheet, row)).keys[part] = key
    return places


def _tables(season: Season, shas: Iterable[str]) -> dict[tuple[str, str], list[Table]]:
    tables: dict[tuple[str, str], list[Table]] = {}
    for sheets in kept_sheets(season.ledger, dict.fromkeys(shas, "")).values():
        for sheet in sheets:
            tables.setdefault((sheet.file_sha256, sheet.name), []).extend(map_headings(sheet, heading_names()))
    return tables


def _edits(season: Season, line: AnswerLine, place: Place, tables: Sequence[Table]) -> list[Decision]:
    """A decision for each cell in which the row differs from the one that was sent."""
    here = [one for one in tables if one.first_row <= place.row <= one.last_row and one.part in place.keys]
    known = values_of(season.ledger, list(place.keys.values()))
    decisions = []
    for _, text, kind, heading, table in _cells_of(line, here):
        key, typed = place.keys[table.part], table.sheet.texts[place.row - 1]
        now = known.get(key, {})
        if heading.field not in now and not text.strip():
            continue
        before = typed[heading.column].strip() if heading.column < len(typed) else ""
        if text.strip() == before:
            continue
        decisions.append(_edit(line, Cell(
            key=key, field=heading.field, rule="", severity="", suggestion="", fingerprint="",
            was=(before, now.get(heading.field, ("", ""))[1]), now=now.get(heading.field, ("", "")), others=now,
        ), text.strip(), kind))  # fmt: skip
    return decisions


def _cells_of(line: AnswerLine, tables: Sequence[Table]) -> Iterator[tuple[str, str, str, Heading, Table]]:
    """The cells of a line with their heading, once for every butterfly of the row that shares the column."""
    column_of = {heading.written.strip(): heading.column for table in reversed(tables) for heading in table.headings}
    for name, text, kind in line.cells:
        for table in tables:
            for heading in table.headings:
                if heading.field and heading.column == column_of.get(name.strip(), -1):
                    yield name, text, kind, heading, table


def _edit(line: AnswerLine, cell: Cell, text: str, kind: str) -> Decision:
    own = replace(line, choice="other", value=text, kind=kind, typed=text)
    if text in cell.now:
        return Decision(own, said.ALREADY_SO, cell=cell)
    if cell.was[0] not in cell.now:
        return Decision(own, said.CONFLICT, cell=cell)
    asked = Asked(line.ref, 0, "", "", "", "", True, True, (cell,))
    return Decision(own, said.APPLIED, asked, ((cell, cell.field, text, kind or TEXT),), cell=cell)


def resolved(season: Season, line: AnswerLine, questions: Mapping[str, Asked]) -> AnswerLine:
    """An answer about a file or heading with the person or field that its words name; unread if they name none."""
    asked = questions.get(line.ref)
    if asked is None or not asked.cells or line.choice != "other":
        return line
    cell = asked.cells[0]
    if cell.decides == "site":
        point = site_point(line.value)
        return replace(line, value=point) if point else replace(line, choice="unread")
    if not asked.is_of_table:
        return line
    if cell.decides == "sender":
        people = season.programme.people
        known = {tidy(str(name)): str(one) for one, name in people[["person_id", "name"]].itertuples(index=False)}
        known |= {one.lower(): one for one in people["person_id"]}
        person = known.get(line.value.strip().lower()) or known.get(tidy(line.value))
        return replace(line, value=person) if person else replace(line, choice="unread")
    if cell.decides != "heading":
        return line
    if tidy(line.value) == tidy(cell.was[0]):
        return replace(line, value=cell.field)
    if not cell.suggestion and cell.field:
        return replace(line, choice="right")  # the other of two columns is the one to read: it is read already
    field = match_heading(line.value, heading_names()).field
    return replace(line, value=field) if field else replace(line, choice="unread")
