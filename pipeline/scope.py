"""Which files a run must look at again: the new and changed ones, their people's, and those that share a tag."""

from __future__ import annotations

import sqlite3
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass

from pipeline.answer_files import about_butterflies
from pipeline.files.arrivals import Plan
from pipeline.files.ledger import LIVE
from pipeline.files.recall import PROBLEMS, writers_of
from pipeline.files.schemas import heading_names
from pipeline.model import FileRead
from pipeline.published import DELIVER_REASON, GATE_REASON
from pipeline.remembered import TOWN, Remembered
from pipeline.season import Season
from pipeline.stages.gather import gather
from pipeline.stages.map_headings import map_headings
from pipeline.stages.normalise import normalise
from pipeline.values.allotment import allotted_tags
from pipeline.whose import senders_by_sheet, with_kind_and_sender

WHOLE_UP_TO = 20_000  # rows in the ledger: so many are looked at as quickly as they are told apart
# What else changes the findings of rows that are there already, by the key of the row.
TOUCHING = ("answers", "waivers", "withdrawals")


@dataclass(frozen=True)
class Since:
    """What came since the last run that looked at everything it had to: its number, the new files, the plan."""

    run: int
    new: Sequence[FileRead]
    planned: Plan


def scope_of(season: Season, since: Since, whole_up_to: int) -> frozenset[str] | None:
    """The SHA-256 of every file to look at; None where that is all of them."""
    ledger = season.ledger
    is_small = _count(ledger, f"(SELECT 1 FROM rows LIMIT {whole_up_to + 1})", "1") <= whole_up_to
    if is_small or _was_turned_over(ledger, since.run):
        return None
    looked_at = about_butterflies(since.new)
    people, tags = _who_and_what(season, looked_at)
    shas = {read.file_sha256 for read in since.new} | set(_touched(ledger, since))
    shas |= _of_people(ledger, people | _people_in(ledger, shas))
    _fill(ledger, "wanted", "tag", tags)
    _fill(ledger, "scope", "sha256", shas)
    sharing = "SELECT tag FROM wanted UNION SELECT tag FROM records WHERE file_sha256 IN (SELECT sha256 FROM scope)"
    others = f"SELECT DISTINCT file_sha256 FROM records WHERE tag != '' AND tag IN ({sharing})"
    shas |= {sha256 for (sha256,) in ledger.execute(others)}
    shas |= _of_people(ledger, _people_in(ledger, shas))
    _fill(ledger, "scope", "sha256", shas)
    _want_tags(season, tags, people | _people_in(ledger, shas))
    return frozenset(shas)


def _was_turned_over(ledger: sqlite3.Connection, run: int) -> bool:
    """Whether something came that may bear on any row: a run undone, a past season taken in, a town placed."""
    return bool(
        _count(ledger, "past", f"run > {run}")
        or _count(ledger, "journal", f"what = 'run undone' AND run > {run}")
        or _count(ledger, "answers", f"key LIKE '{TOWN}%' AND run > {run}")
    )


def _count(ledger: sqlite3.Connection, table: str, where: str) -> int:
    return int(ledger.execute(f"SELECT count(*) FROM {table} WHERE {where}").fetchone()[0])


def _who_and_what(season: Season, reads: Iterable[FileRead]) -> tuple[set[str], set[str]]:
    """The people of the new files, those to whom their tags were handed, and the tags."""
    programme = season.programme
    tables = [table for read in reads for sheet in read.sheets for table in map_headings(sheet, heading_names())]
    if not tables:
        return set(), set()
    by_sheet = senders_by_sheet(tables, programme.people, Remembered(writers=writers_of(season.ledger)))
    rows = normalise(gather(tables), programme.lists, programme.settings).rows
    tags = allotted_tags(programme.tags, programme.settings.season.label, set(rows["tagCode"]))
    rows = with_kind_and_sender(rows, tables, by_sheet, programme, tags)
    return {*rows["person_id"], *rows["tag_person_id"]} - {""}, set(rows["tagCode"]) - {""}


def _touched(ledger: sqlite3.Connection, since: Since) -> Iterable[str]:
    """The files whose rows were answered about, withdrawn, copied, moved, or wait for the gate or a delivery."""
    for table in TOUCHING:
        of_rows = f"SELECT file_sha256 FROM rows WHERE key IN (SELECT key FROM {table} WHERE run > ?)"
        yield from (sha256 for (sha256,) in ledger.execute(of_rows, (since.run,)))
        places = f"SELECT key FROM {table} WHERE run > ? AND key LIKE '%|%'"
        yield from (key.split("|")[0] for (key,) in ledger.execute(places, (since.run,)))
    paths = [*since.planned.moved.values(), *since.planned.copies]
    yield from (
        sha256
        for path in paths
        for (sha256,) in ledger.execute(f"SELECT sha256 FROM files WHERE file = ? AND {LIVE}", (path,))
    )
    # In letters, not as parameters: so the database sees that its index of waiting rows is the one to use.
    waits = f"SELECT DISTINCT file_sha256 FROM rows WHERE reason IN ('{GATE_REASON}', '{DELIVER_REASON}')"
    yield from (sha256 for (sha256,) in ledger.execute(waits))
    # Answers that came to nothing are told of anew each time, with all that is told of their file.
    stuck = f"SELECT DISTINCT file_sha256 FROM answer_lines WHERE outcome IN ({', '.join('?' * len(PROBLEMS))})"
    yield from (sha256 for (sha256,) in ledger.execute(stuck, PROBLEMS))


def _people_in(ledger: sqlite3.Connection, shas: Collection[str]) -> set[str]:
    _fill(ledger, "scope", "sha256", shas)
    query = "SELECT DISTINCT person_id FROM rows WHERE person_id != '' AND file_sha256 IN (SELECT sha256 FROM scope)"
    return {person for (person,) in ledger.execute(query)}


def _of_people(ledger: sqlite3.Connection, people: Collection[str]) -> set[str]:
    """All files of these people, of everybody who has rows in one of them, and so on."""
    shas, known = set[str](), set[str]()
    wanted = set(people)
    while wanted - known:
        for person in sorted(wanted - known):
            files = ledger.execute("SELECT DISTINCT file_sha256 FROM rows WHERE person_id = ?", (person,))
            shas |= {sha256 for (sha256,) in files}
        known |= wanted
        wanted |= _people_in(ledger, shas)
    return shas


def _want_tags(season: Season, tags: Collection[str], people: Collection[str]) -> None:
    """The tags of which it matters who else carries them: those in scope, and all that were handed to its people."""
    ledger = season.ledger
    handed = {code for line in season.programme.tags if line.person_id in people for code in line.codes}
    of_scope = "SELECT DISTINCT tag FROM records WHERE tag != '' AND file_sha256 IN (SELECT sha256 FROM scope)"
    known = {tag for (tag,) in ledger.execute(of_scope)}
    _fill(ledger, "wanted", "tag", handed | known | set(tags))


def _fill(ledger: sqlite3.Connection, table: str, column: str, values: Iterable[str]) -> None:
    ledger.execute(f"CREATE TEMP TABLE IF NOT EXISTS {table} ({column} TEXT PRIMARY KEY) WITHOUT ROWID")
    ledger.execute(f"DELETE FROM {table}")
    ledger.executemany(f"INSERT OR IGNORE INTO {table} VALUES (?)", ((value,) for value in values))
