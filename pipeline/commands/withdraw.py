"""The command `withdraw`: takes a row out of the season, and out of the portal with the next batch."""

from __future__ import annotations

from pathlib import Path

from pipeline.answers_about import row_ref
from pipeline.commands.acts import THEN_RUN, act
from pipeline.files.journal import Entry, write_down
from pipeline.files.ledger import add
from pipeline.season import Season
from pipeline.settings import SettingsWrong


def withdraw_command(ref: str, because: str, folder: Path) -> int:
    """Withdraws the rows that a question is about, a row by its Ref on *Your rows*, or a record by its occurrenceID."""
    with act(folder, None) as (season, run):
        keys = _keys(season, ref.strip())
        if not keys:
            raise SettingsWrong(f"No question, row or record is called {ref}: give a Ref or an occurrenceID.")
        day = season.today.isoformat()
        for key in keys:
            line = {"key": key, "why": because, "who": "coordinator", "day": day, "run": run}
            add(season.ledger, "withdrawals", line)
        entries = [Entry("coordinator", "row withdrawn", key, became="withdrawn", why=because) for key in keys]
        write_down(season.ledger, (season.today, run), entries)
    print(f"{len(keys)} {'row is' if len(keys) == 1 else 'rows are'} withdrawn. {THEN_RUN}")
    return 0


def _keys(season: Season, ref: str) -> list[str]:
    asked = season.ledger.execute("SELECT DISTINCT key FROM findings WHERE ref = ? AND key != ''", (ref.upper(),))
    keys = [key for (key,) in asked]
    if keys:
        return keys
    rows = season.ledger.execute(
        "SELECT key, file_sha256, sheet, row, occurrence_id FROM rows WHERE state IN ('clear', 'held')"
    )
    return [
        key
        for key, sha256, sheet, row, occurrence_id in rows
        if ref.lower() in (occurrence_id, key) or ref.upper() == row_ref(sha256, sheet, row)
    ]
