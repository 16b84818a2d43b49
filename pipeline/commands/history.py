"""The command `history`: the whole story of one person, tag, file or id, down to the cell."""

from __future__ import annotations

import json
import sqlite3
from pathlib import Path
from typing import Any

from pipeline.commands.words import line_of
from pipeline.files.asked_before import values_of
from pipeline.files.ledger import LIVE, open_ledger
from pipeline.files.programme import read_programme

MOST = 40  # rows told one by one


def history_command(thing: str, folder: Path) -> int:
    """Prints what the ledger knows of a person, a tag, a file, a Ref or an occurrenceID; 1 if it knows nothing."""
    programme = read_programme(folder)
    ledger = open_ledger(folder / "programme" / "ledger.sqlite", programme.settings.programme.id, is_trial=True)
    try:
        told = _told(ledger, thing.strip(), set(programme.people["person_id"]))
    finally:
        ledger.close()
    if not told:
        print(f"The ledger knows nothing called {thing}: give a person_id, tag, file, Ref or occurrenceID.")
        return 1
    print("\n".join(told))
    return 0


def _told(ledger: sqlite3.Connection, thing: str, people: set[str]) -> list[str]:
    person = next((one for one in people if one.lower() == thing.lower()), "")
    if person:
        return _of_person(ledger, person)
    file = ledger.execute(
        "SELECT file FROM files WHERE file = ? OR file LIKE ? LIMIT 1", (thing, f"%/{thing}")
    ).fetchone()
    if file:
        return _of_file(ledger, file[0])
    keys = _keys(ledger, thing)
    lines = [line for key in keys[:MOST] for line in _of_row(ledger, key)]
    if len(keys) > MOST:
        lines.append(f"... and {len(keys) - MOST} more rows")
    return lines


def _keys(ledger: sqlite3.Connection, thing: str) -> list[str]:
    """The keys of the rows that carry a tag, an id, or were asked about under a Ref."""
    query = """
        SELECT DISTINCT key FROM records WHERE tag = :tag OR tag_written = :thing
        UNION SELECT key FROM rows WHERE occurrence_id = :id OR key = :id
        UNION SELECT key FROM findings WHERE ref = :tag AND key != ''
    """
    named = {"tag": thing.upper(), "thing": thing, "id": thing.lower()}
    return [key for (key,) in ledger.execute(query, named) if key]


def _of_person(ledger: sqlite3.Connection, person: str) -> list[str]:
    lines = [person]
    files = ledger.execute(
        "SELECT DISTINCT f.received, f.file, f.sha256 FROM files f JOIN rows r ON r.file = f.file "
        "WHERE r.person_id = ? ORDER BY f.file_id", (person,),
    )  # fmt: skip
    lines += [f"  {day}  sent {file}" for day, file, _ in files]
    counts = "SELECT state, count(*) FROM rows WHERE person_id = ? GROUP BY state ORDER BY count(*) DESC"
    lines += line_of("  Rows", ", ".join(f"{count} {state}" for state, count in ledger.execute(counts, (person,))))
    asked = "SELECT number, ref, rule, state, since FROM questions WHERE addressee = ? ORDER BY number"
    for number, ref, rule, state, since in ledger.execute(asked, (person,)):
        lines.append(f"  {since}  question {number} ({ref}) {rule.replace('_', ' ')}: {state}")
    return lines + _journal(ledger, "about = ? OR who = ?", (person, person))


def _of_file(ledger: sqlite3.Connection, file: str) -> list[str]:
    lines = [file]
    query = f"SELECT received, size, sha256, refusal, copy_of, replaced_by FROM files WHERE file = ? AND {LIVE}"
    for day, size, sha256, refusal, copy_of, replaced_by in ledger.execute(query, (file,)):
        what = refusal.replace("_", " ") or (f"the same bytes as {copy_of}" if copy_of else "read")
        newer = ", newer bytes came since" if replaced_by else ""
        lines.append(f"  {day}  {size} bytes, {what}{newer}; SHA-256 {sha256[:16]}...")
    rows = "SELECT sheet, row, state, reason, occurrence_id FROM rows WHERE file = ? ORDER BY sheet, row LIMIT ?"
    for sheet, row, state, reason, occurrence_id in ledger.execute(rows, (file, MOST)):
        said = (
            f"  {sheet + ' ' if sheet else ''}row {row}: {state}{' (' + reason + ')' if reason else ''} {occurrence_id}"
        )
        lines += line_of("", said.strip(), "    ")
    return lines + _journal(ledger, "about = ?", (file,))


def _of_row(ledger: sqlite3.Connection, key: str) -> list[str]:
    """A row in all its versions, what its fields say now, what was asked and answered, where it went."""
    lines = [f"Row {key}"]
    query = """
        SELECT person_id, file, sheet, row, state, reason, occurrence_id, batch_id, file_sha256 FROM rows
        WHERE key = ? ORDER BY state IN ('clear', 'held', 'withdrawn')
    """
    for person, file, sheet, row, state, reason, occurrence_id, batch_id, _ in ledger.execute(query, (key,)):
        where = f"{file}{', ' + sheet if sheet else ''}, row {row}"
        went = f", {occurrence_id} in batch {batch_id}" if batch_id else ""
        lines += line_of(
            "", f"{where} from {person or 'nobody known'}: {state}{' (' + reason + ')' if reason else ''}{went}", "    "
        )
    for field, (written, value) in values_of(ledger, [key]).get(key, {}).items():
        if written or value:
            became = "" if written == value else f" -> {value or 'blank'}"
            lines.append(f"    {field}: {written or 'blank'}{became}")
    lines += _changes(ledger, key)
    found = "SELECT rule, state, seen, suggestion, ref FROM findings WHERE key = ? ORDER BY rule"
    for rule, state, seen, suggestion, ref in ledger.execute(found, (key,)):
        about = f"{rule.replace('_', ' ')}: {state}, seen {seen!r}" + (
            f", we suggested {suggestion!r}" if suggestion else ""
        )
        lines += line_of("", about + (f" ({ref})" if ref else ""), "    ")
    return lines + _journal(ledger, "about = ? OR about LIKE ?", (key, f"{key} %"))


def _with_reason(state: str, reason: str) -> str:
    return f"{state} ({reason})" if reason else state


def _changes(ledger: sqlite3.Connection, key: str) -> list[str]:
    place = ledger.execute(
        "SELECT file_sha256, sheet, row FROM rows WHERE key = ? AND state IN ('clear', 'held')", (key,)
    ).fetchone()
    kept = place and ledger.execute("SELECT lines FROM changes WHERE file_sha256 = ?", place[:1]).fetchone()
    if not kept:
        return []
    told: dict[str, list[Any]] = json.loads(kept[0])
    return [
        f"    {told['field'][at]}: {told['seen'][at]} became {told['became'][at]} ({told['why'][at]})"
        for at, row in enumerate(told["row"])
        if row == str(place[2]) and told["sheet"][at] == place[1]
    ]


def _journal(ledger: sqlite3.Connection, where: str, values: tuple[str, ...]) -> list[str]:
    query = f"SELECT day, who, what, was, became, why, run FROM journal WHERE {where} ORDER BY entry"
    lines = []
    for day, who, what, was, became, why, run in ledger.execute(query, values):
        change = f": {was or 'blank'} -> {became}" if became else ""
        lines += line_of("", f"{day}  {who}: {what}{change}{' because ' + why if why else ''} (run {run})", "  ")
    return lines
