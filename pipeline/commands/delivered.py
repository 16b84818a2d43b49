"""The command `delivered`: the data desk took a batch."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from pipeline.commands.acts import act
from pipeline.files.journal import Entry, write_down
from pipeline.files.ledger import add
from pipeline.settings import SettingsWrong


def delivered_command(batch_id: str, on: date | None, folder: Path) -> int:
    """Notes on which day a batch was delivered."""
    with act(folder, None) as (season, run):
        known = [one for (one,) in season.ledger.execute("SELECT batch_id FROM batches ORDER BY batch_id")]
        if batch_id not in known:
            there = f"the batches are {', '.join(known[-5:])}" if known else "there is none yet"
            raise SettingsWrong(f"There is no batch {batch_id}: {there}.")
        day = on or season.today
        add(season.ledger, "delivered", {"batch_id": batch_id, "day": day.isoformat(), "run": run})
        write_down(season.ledger, (day, run), [Entry("coordinator", "batch delivered", batch_id)])
    print(f"Noted: {batch_id} was delivered on {day}.")
    return 0
