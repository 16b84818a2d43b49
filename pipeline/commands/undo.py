"""The command `undo`: takes the last run back, as if it had not been; nothing is lost."""

from __future__ import annotations

import sqlite3
from pathlib import Path

from pipeline.commands.acts import act
from pipeline.files.journal import Entry, write_down
from pipeline.files.ledger import LIVE, LedgerUnusable, add

# What a run can bring in; a run without any of these only drew conclusions from what there was.
BROUGHT_IN = (
    "files", "answers", "answer_lines", "waivers", "withdrawals", "tag_fates", "rounds", "past", "delivered",
)  # fmt: skip
DERIVED = ("records", "values_now", "changes", "tables", "finds")


def undo_command(folder: Path) -> int:
    """Takes back the files, answers and notes of the last run that brought any in."""
    with act(folder, None) as (season, run):
        ledger = season.ledger
        last = _last_that_changed(ledger)
        if last is None:
            raise LedgerUnusable("There is nothing to undo: no run has brought anything in yet.")
        undone = ledger.execute("SELECT day FROM undone WHERE run = ?", (last,)).fetchone()
        if undone:
            raise LedgerUnusable(f"The last run that changed anything was undone already, on {undone[0]}.")
        counts = {name: _count(ledger, name, last) for name in BROUGHT_IN}
        batches = ledger.execute("SELECT count(*) FROM batches WHERE run >= ?", (last,)).fetchone()[0]
        add(ledger, "undone", {"run": last, "day": season.today.isoformat()})
        _take_back_files(ledger, last)
        write_down(ledger, (season.today, run), [Entry("coordinator", "run undone", str(last), why=_said(counts))])
    print(f"Run {last} is undone: {_said(counts)}.")
    if counts["files"]:
        print("Its files are still in the inbox: take out what should not come in again.")
    if batches:
        print("The batch written since stays: the next one restores the earlier records and names those withdrawn.")
    print("Then type tagsheaf run.")
    return 0


def _last_that_changed(ledger: sqlite3.Connection) -> int | None:
    union = " UNION ".join(f"SELECT max(run) AS run FROM {name}" for name in BROUGHT_IN)
    found = ledger.execute(f"SELECT max(run) FROM ({union})").fetchone()[0]
    return int(found) if found else None


def _count(ledger: sqlite3.Connection, table: str, run: int) -> int:
    return int(ledger.execute(f"SELECT count(*) FROM {table} WHERE run = ?", (run,)).fetchone()[0])


def _take_back_files(ledger: sqlite3.Connection, run: int) -> None:
    """The rows of the run's files leave; those that were published stay as withdrawn until a batch has said so."""
    gone = f"file_sha256 NOT IN (SELECT sha256 FROM files WHERE {LIVE})"
    ledger.execute(
        "UPDATE files SET replaced_by = '' WHERE replaced_by IN (SELECT sha256 FROM files WHERE run = ?) "
        f"AND replaced_by NOT IN (SELECT sha256 FROM files WHERE {LIVE})", (run,),
    )  # fmt: skip
    ledger.execute(f"DELETE FROM rows WHERE {gone} AND (occurrence_id = '' OR digest = '')")
    ledger.execute(f"UPDATE rows SET state = 'withdrawn', reason = 'undone' WHERE {gone}")
    for table in DERIVED:
        ledger.execute(f"DELETE FROM {table} WHERE {gone}")
    ledger.execute(f"UPDATE questions SET state = 'closed' WHERE ref IN (SELECT ref FROM findings WHERE {gone})")
    ledger.execute(f"UPDATE findings SET state = 'withdrawn' WHERE {gone}")


def _said(counts: dict[str, int]) -> str:
    words = {
        "files": "files", "answers": "answers", "waivers": "confirmations", "withdrawals": "withdrawals",
        "tag_fates": "notes on tags", "rounds": "letters sent", "past": "records of past seasons",
        "delivered": "deliveries",
    }  # fmt: skip
    told = [f"{counts[name]} {word}" for name, word in words.items() if counts[name]]
    return ", ".join(told) or "what it brought in"
