"""Writes the outbox from what a run found: letters, question sheets, the coordinator's files, the report."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from datetime import timedelta
from typing import Any

import pandas as pd

from pipeline.catalogue import catalogue
from pipeline.examine import Examined, find_id
from pipeline.files.asked import Asked, Found
from pipeline.files.asking import COORDINATOR, Shared, asked_of, coordinator_asked, questions_of
from pipeline.files.letter_to_finder import subject_of_find
from pipeline.files.letter_to_person import reader_of, subject_of
from pipeline.files.outbox import (
    CoordinatorTables,
    clear_folders_of_others,
    sheet_lines,
    unless_held_open,
    write_stamp,
    write_tables,
)
from pipeline.files.outbox_people import write_finder, write_people
from pipeline.files.question_workbook import write_question_workbook
from pipeline.files.report import write_report
from pipeline.frames import is_among, known_of, lines_of
from pipeline.model import Table
from pipeline.publish import Published
from pipeline.remember import Kept
from pipeline.season import Season, Settled
from pipeline.stages.summarise import Summary

SAID = [
    "person_id", "file", "sheet", "row", "column", "field", "rule", "severity", "asks", "seen", "suggestion",
    "state", "words",
]  # fmt: skip
LETTER_COLUMNS = ["person_id", "email", "language", "subject", "questions", "due", "reminder", "folder"]


def hand_out(season: Season, examined: Examined, settled: Settled, run: int) -> list[str]:
    """Writes the whole outbox but for the batch; returns the paths that another program holds open."""
    published, kept, summary = settled.published, settled.kept, settled.summary
    shared = _shared(season, examined, run)
    asked = _asked(season, examined, kept, shared, summary)
    finders = _finders(published, kept, shared)
    clear_folders_of_others(season.outbox, {one.person_id for one in asked}, {one.find_id for one in finders})
    stuck = write_people(season.outbox, asked)
    for found in finders:
        stuck += write_finder(season.outbox / "finders" / found.find_id, found)
    folder = season.outbox / COORDINATOR
    sheets = sheet_lines(dict(enumerate(examined.tables)), examined.rows_of_table, examined.files)
    tables = CoordinatorTables(
        kept.findings, examined.changes, kept.rows, sheets, published.finds, _letters(asked, finders)
    )
    stuck += write_tables(folder, tables)
    book = write_question_workbook(coordinator_asked(lines_of(kept.questions), shared))
    stuck += unless_held_open(folder / "questions.xlsx", lambda path: path.write_bytes(book))
    by = {"by_person": summary.by_person, "by_rule": summary.by_rule, "files": kept.files, "batches": kept.batches}
    stuck += unless_held_open(
        folder / "report.html", lambda path: write_report(path, season.programme, settled.figures, by, season.today)
    )
    write_stamp(season.outbox, run, season.today.isoformat())
    return [f"{path} is open in another program: close it and run again" for path in stuck]


def _shared(season: Season, examined: Examined, run: int) -> Shared:
    findings = examined.findings
    is_told = is_among(examined.rows["key"], findings["key"])
    told_of = examined.rows.loc[is_told, ["key", "tagCode_written"]]
    tags = dict(told_of.itertuples(index=False, name=None))
    tables: dict[tuple[str, str], list[Table]] = {}
    for table in examined.tables:
        tables.setdefault((table.sheet.file, table.sheet.name), []).append(table)
    told = findings[SAID].assign(tag=known_of(findings["key"], tags))
    return Shared(
        season.programme.settings,
        {entry.name: entry for entry in catalogue()},
        tables,
        lines_of(told),
        season.today,
        f"{season.programme.settings.programme.id}/{season.today.isoformat()}/{run}",
    )


def _asked(season: Season, examined: Examined, kept: Kept, shared: Shared, summary: Summary) -> list[Asked]:
    """A letter for everybody who sent something or is asked something."""
    wrote = set(examined.files["person_id"]) | set(kept.questions["addressee"])
    questions = _by(lines_of(kept.questions), "addressee")
    noted = (line for line in shared.findings if line["state"] == "noted" and line["asks"] != COORDINATOR)
    information = _by(noted, "person_id")
    counts = {line["person_id"]: line for line in lines_of(summary.by_person)}
    unheard = _unheard(examined, summary)
    people = season.programme.people
    written_to = {one["person_id"]: one for one in lines_of(people[people["person_id"].isin(list(wrote))])}
    return [
        asked_of(
            person,
            (questions.get(name, []), information.get(name, []), unheard.get(name, [])),
            shared,
            counts.get(name, {"clear": 0, "held": 0}),
        )
        for name, person in written_to.items()
    ]


def _by(lines: Iterable[Mapping[str, Any]], name: str) -> dict[str, list[Mapping[str, Any]]]:
    grouped: dict[str, list[Mapping[str, Any]]] = {}
    for line in lines:
        grouped.setdefault(line[name], []).append(line)
    return grouped


def _unheard(examined: Examined, summary: Summary) -> Mapping[str, list[str]]:
    unheard: dict[str, list[str]] = {}
    for code in summary.unheard:
        unheard.setdefault(examined.tags[code].person_id, []).append(code)
    return unheard


def _finders(published: Published, kept: Kept, shared: Shared) -> list[Found]:
    """A letter for each find that nobody of people.csv reported."""
    rows = published.rows
    finds = lines_of(rows[(rows["recordKind"] == "find") & (rows["person_id"] == "")])
    of_find = (
        (rows["recordKind"] == "release")
        & (rows["state"] == "clear")
        & rows["tagCode"].isin([find["tagCode"] for find in finds])
    )
    releases = {
        line["tagCode"]: line for line in lines_of(rows.loc[of_find, ["tagCode", "eventDate", "stateProvince"]])
    }
    questions = _by(lines_of(kept.questions), "addressee")
    journeys = {(one["find_file"], one["find_sheet"], one["find_row"]): one for one in lines_of(published.finds)}
    return [
        _found(
            find,
            releases.get(find["tagCode"], {}),
            journeys.get((find["file"], find["sheet"], str(find["row"])), {}),
            questions.get(f"finders/{find_id(find['key'])}", []),
            shared,
        )
        for find in finds
    ]


def _found(
    find: Mapping[str, Any],
    release: Mapping[str, str],
    journey: Mapping[str, str],
    asked: Iterable[Mapping[str, Any]],
    shared: Shared,
) -> Found:
    settings, letters = shared.settings, shared.settings.letters
    mail = re.search(r"[^\s<>,;]+@[^\s<>,;]+", find["contact"])
    places = (find["municipality"] or find["locality"], find["stateProvince"], find["countryCode"])
    return Found(
        find_id=find_id(find["key"]), name=find["recordedBy"], email=mail.group() if mail else "", language="en",
        tag=find["tagCode"], found_on=find["eventDate"], found_at=", ".join(filter(None, places)),
        released_on=release.get("eventDate", ""), released_in=release.get("stateProvince", ""),
        km=float(journey["km"]) if release and journey.get("km") else None,
        days=int(float(journey["days"])) if release and journey.get("days") else None,
        questions=questions_of(asked, shared, "en"), due=shared.today + timedelta(days=letters.days_to_answer),
        today=shared.today, programme_name=settings.programme.name, contact=settings.programme.contact,
        signed_by=letters.signed_by, reply_to=letters.reply_to, seed=f"{shared.seed}/{find_id(find['key'])}",
    )  # fmt: skip


def _letters(asked: list[Asked], finders: list[Found]) -> pd.DataFrame:
    """A line for each letter, for those who mail by hand."""
    lines = [
        (one.person_id, *_read_by(one), str(len(one.questions)), one.due.isoformat() if one.questions else "", "0",
         f"volunteers/{one.person_id}")
        for one in asked
    ]  # fmt: skip
    lines += [
        ("", one.email, one.language, subject_of_find(one), str(len(one.questions)),
         one.due.isoformat() if one.questions else "", "0", f"finders/{one.find_id}")
        for one in finders
    ]  # fmt: skip
    return pd.DataFrame(lines, columns=LETTER_COLUMNS, dtype="str")


def _read_by(asked: Asked) -> tuple[str, str, str]:
    return reader_of(asked)[1], asked.language, subject_of(asked)
