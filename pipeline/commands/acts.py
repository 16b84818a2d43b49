"""What the coordinator does to the ledger by hand: opened, changed, written down as a run of its own."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from pathlib import Path

from pipeline.files.ledger import LedgerUnusable, open_ledger
from pipeline.files.programme import read_programme
from pipeline.files.runs import Run, keep_run, last_run, next_run
from pipeline.season import Season

THEN_RUN = "Type tagsheaf run to bring the outbox up to date."


@contextmanager
def act(folder: Path, today: date | None) -> Iterator[tuple[Season, int]]:
    """The season of a folder and the number under which its ledger is changed; kept if nothing went wrong."""
    programme = read_programme(folder)
    ledger = open_ledger(folder / "programme" / "ledger.sqlite", programme.settings.programme.id)
    try:
        last = last_run(ledger)
        if last is None:
            raise LedgerUnusable("There was no run yet: put sheets into inbox/, then type tagsheaf run.")
        season, run = Season(folder, programme, ledger, today or date.today()), next_run(ledger)
        yield season, run
        # No mark: the next run looks at everything again.
        keep_run(ledger, Run(run, season.today, "", last.figures, last.exit_code))
        ledger.execute("COMMIT")
    finally:
        ledger.close()
