"""Writes the outbox from what a run found: letters, question sheets, the coordinator's files, the report."""

from __future__ import annotations

import sqlite3
from collections.abc import Collection, Iterable, Mapping, Sequence
from typing import Any, NamedTuple

import pandas as pd

from pipeline.catalogue import catalogue
from pipeline.examine import Examined, find_id
from pipeline.files.archive import Renewed, renew_archive
from pipeline.files.archive_batches import put_back_batches
from pipeline.files.asked import Asked, Found
from pipeline.files.asking import COORDINATOR, Mine, Shared, asked_of, coordinator_asked
from pipeline.files.counts import ready
from pipeline.files.ledger import LIVE, frame, kept_sheets
from pipeline.files.ledger_tables import write_tables
from pipeline.files.letter_to_finder import subject_of_find
from pipeline.files.letter_to_person import reader_of, subject_of
from pipeline.files.map_points import points_on_map
from pipeline.files.open_questions import Open, open_questions
from pipeline.files.outbox import clear_folders_of_others, unless_held_open, write_stamp
from pipeline.files.outbox_people import WORKBOOK, put, write_finder, write_people
from pipeline.files.question_workbook import write_question_workbook
from pipeline.files.report import write_report
from pipeline.files.rounds import round_of, rounds_sent
from pipeline.files.schemas import heading_names
from pipeline.files.seen_by import write_seen_by
from pipeline.finders import finders_of
from pipeline.frames import lines_of
from pipeline.model import Table
from pipeline.season import Season, Settled
from pipeline.stages.map_headings import map_headings
from pipeline.stages.summarise import Summary

WROTE = "SELECT person_id FROM rows UNION SELECT person_id FROM findings WHERE state IN ('open', 'noted')"
LETTER_COLUMNS = ["person_id", "email", "language", "subject", "questions", "due", "reminder", "folder", "write_on"]


class Handed(NamedTuple):
    """What is to be said of the outbox as it was written, and whether the archive had to stay as it was."""

    notes: tuple[str, ...]
    is_refused: bool


def hand_out(season: Season, settled: Settled, examined: Examined, is_shown: bool, run: int) -> Handed:
    """Writes the outbox but for the batch of this run.

    Where the outbox showed the ledger as it was before this run (`is_shown`), only the letters of the people that
    the run looked at are written again; the coordinator's files list the whole ledger each time.
    """
    now = open_questions(season.ledger)
    only = _looked_at(season, examined) if is_shown else None
    shared = _shared(season, now, examined.tables, only, run)
    asked = _asked(season, now, shared, settled.summary)
    finders = finders_of(season, now, shared)
    clear_folders_of_others(season.outbox, {one.person_id for one in asked}, {one.find_id for one in finders})
    stuck = write_people(season.outbox, [one for one in asked if only is None or one.person_id in only])
    for found in finders:
        if only is None or found.find_id in only:
            stuck += write_finder(season.outbox / "finders" / found.find_id, found)
    folder = season.outbox / COORDINATOR
    stuck += write_tables(folder, season.ledger, _letters(asked, finders))
    book = write_question_workbook(coordinator_asked(now.questions, shared))
    stuck += filter(None, [put(folder / WORKBOOK, book)])
    stuck += _report(season, settled)
    renewed = _at_portal(season, is_shown)
    stuck += renewed.held_open
    stuck += unless_held_open(
        folder / "seen-by.html", lambda _: write_seen_by(season.outbox, season.programme, season.ledger)
    )
    if not stuck and not renewed.refusals:  # else the next run writes everything again
        write_stamp(season.outbox, run, season.today.isoformat())
    notes = [f"{path} is open in another program: close it and run again" for path in stuck]
    return Handed((*renewed.refusals, *renewed.notes, *notes), bool(renewed.refusals))


def _report(season: Season, settled: Settled) -> list[str]:
    by = {
        "by_person": settled.summary.by_person, "by_rule": settled.summary.by_rule,
        "files": frame(season.ledger, f"SELECT * FROM files WHERE {LIVE} ORDER BY file_id"),
        "batches": frame(season.ledger, "SELECT * FROM batches ORDER BY batch_id"),
        **points_on_map(season.ledger, season.programme.settings.privacy.home_square_degrees),
    }  # fmt: skip
    return unless_held_open(
        season.outbox / COORDINATOR / "report.html",
        lambda path: write_report(path, season.programme, settled.figures, by, season.today),
    )


def _at_portal(season: Season, is_shown: bool) -> Renewed:
    """Earlier batches where the outbox was lost, and the archive."""
    if not is_shown:
        put_back_batches(season.ledger, season.outbox)
    return renew_archive(season.outbox, season.ledger, season.programme.settings)


def _looked_at(season: Season, examined: Examined) -> frozenset[str]:
    """The people and finds whose letters may have changed."""
    people = set(examined.files["person_id"]) | set(examined.rows["person_id"]) | set(examined.aside["person_id"])
    finds = examined.rows.loc[examined.rows["recordKind"] == "find", "key"]
    answered = season.ledger.execute("SELECT DISTINCT person_id FROM answer_lines UNION SELECT who FROM tag_fates")
    return frozenset({*people, *map(find_id, finds), *(person for (person,) in answered)})


def _shared(season: Season, now: Open, at_hand: Sequence[Table], only: frozenset[str] | None, run: int) -> Shared:
    tables: dict[tuple[str, str], list[Table]] = {}
    for table in at_hand:
        tables.setdefault((table.sheet.file_sha256, table.sheet.name), []).append(table)
    known = {sha256 for sha256, _ in tables}
    wanted = {
        now.findings[question["finding"]]["file_sha256"]
        for question in now.questions
        if only is None or question["addressee"] in only
    } - known
    for table in _tables_of(season.ledger, wanted):
        tables.setdefault((table.sheet.file_sha256, table.sheet.name), []).append(table)
    return Shared(
        season.programme.settings,
        {entry.name: entry for entry in catalogue()},
        tables,
        now.findings,
        season.today,
        f"{season.programme.settings.programme.id}/{season.today.isoformat()}/{run}",
    )


def _tables_of(ledger: sqlite3.Connection, wanted: Collection[str]) -> list[Table]:
    """The tables of files of earlier runs, as their sheets show them."""
    files = {sha256: file for file, sha256 in ledger.execute("SELECT file, sha256 FROM files WHERE copy_of = ''")}
    sheets = kept_sheets(ledger, {sha256: files[sha256] for sha256 in sorted(wanted)})
    return [table for of_file in sheets.values() for sheet in of_file for table in map_headings(sheet, heading_names())]


def _asked(season: Season, now: Open, shared: Shared, summary: Summary) -> list[Asked]:
    """A letter for everybody who sent something or is asked something."""
    questions = _by(now.questions, "addressee")
    wrote = {person for (person,) in season.ledger.execute(WROTE)}
    noted = (line for line in shared.findings if line["state"] == "noted" and line["asks"] != COORDINATOR)
    information = _by(noted, "person_id")
    counts, sent = ready(season.ledger), rounds_sent(season.ledger)
    people = season.programme.people
    written_to = people[people["person_id"].isin([*wrote, *questions])]
    return [
        asked_of(
            person,
            Mine(questions.get(name, []), information.get(name, []), summary.unheard.get(name, ())),
            shared,
            counts.get(name, (0, 0)),
            round_of(
                sent.get(name, []), [line["ref"] for line in questions.get(name, [])], season.today,
                shared.settings.letters,
            ),
        )
        for name, person in ((line["person_id"], line) for line in lines_of(written_to))
    ]  # fmt: skip


def _by(lines: Iterable[Mapping[str, Any]], name: str) -> dict[str, list[Mapping[str, Any]]]:
    grouped: dict[str, list[Mapping[str, Any]]] = {}
    for line in lines:
        grouped.setdefault(line[name], []).append(line)
    return grouped


def _letters(asked: list[Asked], finders: list[Found]) -> pd.DataFrame:
    """A line for each letter, for those who mail by hand; `write_on` is the day of a reminder."""
    lines = [
        (one.person_id, *_read_by(one), str(len(one.questions)),
         one.due.isoformat() if one.questions and not one.rests else "", str(one.reminder),
         f"volunteers/{one.person_id}", one.write_on.isoformat() if one.write_on else "")
        for one in asked
    ]  # fmt: skip
    lines += [
        ("", one.email, one.language, subject_of_find(one), str(len(one.questions)),
         one.due.isoformat() if one.questions else "", "0", f"finders/{one.find_id}", "")
        for one in finders
    ]  # fmt: skip
    return pd.DataFrame(lines, columns=LETTER_COLUMNS, dtype="str")


def _read_by(asked: Asked) -> tuple[str, str, str]:
    return reader_of(asked)[1], asked.language, subject_of(asked)
