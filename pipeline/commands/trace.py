"""The command `trace`: a data desk's reply with the cells that it is about beside it, ready to ask the taggers."""

from __future__ import annotations

import hashlib
import sqlite3
from collections.abc import Mapping
from pathlib import Path

import pandas as pd

from pipeline.commands.words import line_of
from pipeline.files.csv_files import write_csv
from pipeline.files.intake import Arrival
from pipeline.files.ledger import NAME, LedgerUnusable, kept_sheets, open_ledger
from pipeline.files.programme import ProgrammeFolder, read_programme
from pipeline.files.reading import read_files
from pipeline.files.schemas import fields, heading_names
from pipeline.files.trace_file import Line, Place, earlier_seasons, lines_in, places_of
from pipeline.frames import letter
from pipeline.model import Table
from pipeline.settings import SettingsWrong
from pipeline.stages.map_headings import map_headings
from pipeline.values.wording import people_in_words

COLUMNS = (
    "line", "occurrenceID", "person_id", "name", "file", "sheet", "row", "column", "field", "seen", "cells", "state",
    "batch_id", "note",
)  # fmt: skip
NOT_OURS = "no record of ours has this id"
Tables = Mapping[tuple[str, str], tuple[Table, ...]]


def trace_command(file: Path, folder: Path) -> int:
    """Writes outbox/coordinator/traced-<name>.csv and says how many ids are ours; 0 if the file could be read."""
    programme = read_programme(folder)
    if not file.is_file():
        raise SettingsWrong(f"There is no file {file}.")
    if not (folder / NAME).is_file():
        raise LedgerUnusable("There was no run yet, so no id is known: put sheets into inbox/, then type tagsheaf run.")
    content = file.read_bytes()
    (read,) = read_files([Arrival(file.as_posix(), file, hashlib.sha256(content).hexdigest(), len(content))])
    lines = lines_in(read, (field.name for field in fields())) if not read.refusal else None
    if lines is None:
        why = f"it looks like {read.what}" if read.refusal else "no column of it is called occurrenceID"
        print(f"{file.name} cannot be traced: {why}.")
        return 1
    ledger = open_ledger(folder / NAME, programme.settings.programme.id)
    try:
        told = _told(ledger, programme, lines)
    finally:
        ledger.close()  # nothing was changed
    written = folder / "outbox" / "coordinator" / f"traced-{file.stem}.csv"
    write_csv(written, told, guarded=True)
    print("\n".join(_said(told, written.relative_to(folder).as_posix())))
    return 0


def _told(ledger: sqlite3.Connection, programme: ProgrammeFolder, lines: list[Line]) -> pd.DataFrame:
    """A line for each line of the desk's table; its own cells stay at the end."""
    ids = [line.occurrence_id for line in lines]
    places, earlier = places_of(ledger, ids), earlier_seasons(ledger, ids)
    names = dict(zip(programme.people["person_id"], programme.people["name"], strict=True))
    tables = _tables(ledger, places)
    told = []
    for line in lines:
        place = places.get(line.occurrence_id)
        known = _of_place(place, line.field, tables) if place else {}
        note = "" if place else NOT_OURS
        if not place and line.occurrence_id in earlier:
            note = "of season {}, taken in from {}".format(*earlier[line.occurrence_id])
        person = {"name": names.get(place.person_id, "")} if place else {}
        desk = {f"desk: {heading}": text for heading, text in line.others.items()}
        told.append({
            "line": str(line.row), "occurrenceID": line.occurrence_id, "field": line.field, "note": note, **known,
            **person, **desk,
        })  # fmt: skip
    own = dict.fromkeys(name for line in told for name in line if name.startswith("desk: "))
    return pd.DataFrame(told, columns=[*COLUMNS, *own], dtype="str").fillna("")


def _tables(ledger: sqlite3.Connection, places: Mapping[str, Place]) -> Tables:
    """The tables on every sheet that a record stands on, as they were read."""
    files = {place.file_sha256: place.file for place in places.values()}
    sheets = kept_sheets(ledger, files)
    return {
        (sha256, sheet.name): tuple(map_headings(sheet, heading_names()))
        for sha256, of_file in sheets.items()
        for sheet in of_file
    }


def _of_place(place: Place, field: str, tables: Tables) -> dict[str, str]:
    """Where the record stands and what its cells say, word for word."""
    of_row = next(
        (
            table
            for table in tables.get((place.file_sha256, place.sheet), ())
            if table.first_row <= place.row <= table.last_row
        ),
        None,
    )
    known = {
        "person_id": place.person_id, "file": place.file, "sheet": place.sheet, "row": str(place.row),
        "state": f"{place.state}: {place.reason}" if place.reason else place.state, "batch_id": place.batch_id,
    }  # fmt: skip
    if of_row is None:
        return known
    texts = of_row.sheet.texts[place.row - 1]
    cells = [(each, texts[each.column]) for each in of_row.headings if each.column < len(texts)]
    about = [(each.column, text) for each, text in cells if field and each.field == field]
    return {
        **known,
        "column": " ".join(letter(column) for column, _ in about),
        "seen": " | ".join(text for _, text in about),
        "cells": " | ".join(f"{letter(each.column)} {each.written}: {text}" for each, text in cells if text.strip()),
    }


def _said(told: pd.DataFrame, written: str) -> list[str]:
    known = told[told["file"] != ""]
    people = people_in_words(int(known["person_id"].nunique()))
    lines = line_of("", f"{len(known)} of {len(told)} lines are about records of {people}.")
    strange = told[told["note"] == NOT_OURS]
    for line in strange.head(5).itertuples():
        lines += line_of("", f"line {line.line}: {NOT_OURS} ({line.occurrenceID})", "  ")
    if len(strange) > 5:
        lines.append(f"  ... and {len(strange) - 5} more ids that are not ours")
    return [*lines, *line_of("", f"Person, file, sheet, row and cells of each stand in {written}.")]
