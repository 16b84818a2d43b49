"""A table that names records by occurrenceID, as a data desk sends it back, and where in the ledger they stand."""

from __future__ import annotations

import re
import sqlite3
from collections.abc import Iterable, Iterator
from typing import Any, NamedTuple

from pipeline.model import FileRead, Sheet

ID = "occurrenceID"
LOOKED_THROUGH = 50  # rows in which the heading row is looked for
UUID = re.compile(r"[0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12}")
# What the portal calls a field of ours otherwise.
OURS = {
    "organismID": "tagCode", "organismName": "tagCode", "verbatimEventDate": "eventDate", "year": "eventDate",
    "month": "eventDate", "day": "eventDate", "verbatimLocality": "locality", "verbatimLatitude": "decimalLatitude",
    "verbatimLongitude": "decimalLongitude", "verbatimCoordinates": "decimalLatitude", "country": "countryCode",
    "coordinatePrecision": "decimalLatitude", "genus": "scientificName", "taxonRank": "scientificName",
    "recordedByID": "recordedBy", "causeOfDeath": "vitality",
}  # fmt: skip


class Line(NamedTuple):
    """A line of the table: its row and id, the field of ours that it speaks of ("" if none), its other cells."""

    row: int
    occurrence_id: str
    field: str
    others: dict[str, str]  # by heading


class Place(NamedTuple):
    """Where a record stands now: whose it is, in which cell row, and what became of it."""

    person_id: str
    file: str
    sheet: str
    row: int
    state: str
    reason: str
    batch_id: str
    file_sha256: str


def lines_in(read: FileRead, fields: Iterable[str]) -> list[Line] | None:
    """The lines below the first heading occurrenceID; None if no sheet has one. `fields` are ours."""
    known = {name: name for name in fields} | OURS
    for sheet in read.sheets:
        for at, texts in enumerate(sheet.texts[:LOOKED_THROUGH]):
            column = next((place for place, text in enumerate(texts) if _is_id(text)), -1)
            if column >= 0:
                return list(_below(sheet, at, column, known))
    return None


def _is_id(heading: str) -> bool:
    """The heading is the term, with or without its address or prefix."""
    return re.sub(r"[^a-z]", "", re.split(r"[/:]", heading)[-1].lower()) == ID.lower()


def _below(sheet: Sheet, heading_row: int, column: int, known: dict[str, str]) -> Iterator[Line]:
    headings = [text.strip() for text in sheet.texts[heading_row]]
    for at, texts in enumerate(sheet.texts[heading_row + 1 :], start=heading_row + 2):
        written = texts[column].strip() if column < len(texts) else ""
        if not written:
            continue
        others = {
            heading or f"column {place + 1}": text
            for place, (heading, text) in enumerate(zip([*headings, *[""] * len(texts)], texts, strict=False))
            if place != column and text.strip()
        }
        yield Line(at, _as_ours(written), _field(others.values(), known), others)


def _as_ours(written: str) -> str:
    """The id as we write it, however the desk dressed it."""
    found = UUID.search(written.lower())
    return f"urn:uuid:{found[0]}" if found else written


def _field(cells: Iterable[str], known: dict[str, str]) -> str:
    """The field that a line speaks of: a cell that is its name, else a name in a text that no other word looks like."""
    told = list(cells)
    for text in told:
        if (name := re.split(r"[/:]", text.strip())[-1]) in known:
            return known[name]
    words = (word for text in told for word in re.findall(r"[A-Za-z]+", text))
    return next((known[word] for word in words if word in known and word != word.lower()), "")


def places_of(ledger: sqlite3.Connection, ids: Iterable[str]) -> dict[str, Place]:
    """By occurrenceID: where its current row stands; ids that the ledger does not know are left out."""
    _wanted(ledger, ids)
    query = """
        SELECT occurrence_id, person_id, file, sheet, row, state, reason, batch_id, file_sha256 FROM rows
        WHERE state NOT IN ('copy', 'replaced') AND occurrence_id IN (SELECT id FROM wanted_ids)
        ORDER BY state = 'clear'
    """
    return {occurrence_id: Place(*told) for occurrence_id, *told in ledger.execute(query)}


def earlier_seasons(ledger: sqlite3.Connection, ids: Iterable[str]) -> dict[str, tuple[str, str]]:
    """By occurrenceID: season and file of a record that `tagsheaf past` took in."""
    _wanted(ledger, ids)
    query = "SELECT occurrence_id, season, file FROM past WHERE occurrence_id IN (SELECT id FROM wanted_ids)"
    return {occurrence_id: (season, file) for occurrence_id, season, file in ledger.execute(query)}


def _wanted(ledger: sqlite3.Connection, ids: Iterable[Any]) -> None:
    ledger.execute("CREATE TEMP TABLE IF NOT EXISTS wanted_ids (id TEXT PRIMARY KEY) WITHOUT ROWID")
    ledger.execute("DELETE FROM wanted_ids")
    ledger.executemany("INSERT OR IGNORE INTO wanted_ids VALUES (?)", ((one,) for one in ids))
