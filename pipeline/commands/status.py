"""The command `status`: what waits and what to do next."""

from __future__ import annotations

from pathlib import Path

from pipeline.files.arrivals import plan
from pipeline.files.intake import find_files
from pipeline.files.ledger import frame, open_ledger
from pipeline.files.programme import read_programme
from pipeline.files.runs import last_run
from pipeline.values.wording import last_line


def status_command(folder: Path) -> int:
    """Prints what came, what is open and what to do next; changes nothing. 1 if anything is asked."""
    programme = read_programme(folder)
    print(f"{programme.settings.programme.name}, season {programme.settings.season.label}")
    ledger = open_ledger(folder / "programme" / "ledger.sqlite", programme.settings.programme.id, is_trial=True)
    try:
        planned = plan(find_files(folder / "inbox").arrivals, ledger)
        last = last_run(ledger)
        files = frame(ledger, "SELECT DISTINCT person_id FROM rows WHERE person_id != ''")
        wrote = set(files["person_id"])
    finally:
        ledger.close()
    silent = [person for person in programme.people["person_id"] if person not in wrote]
    if silent:
        print(f"No sheet seen yet from {len(silent)}: {', '.join(silent[:12])}{' ...' if len(silent) > 12 else ''}")
    waiting = len(planned.new) + len(planned.copies) + len(planned.moved)
    if waiting:
        print(f"{waiting} {'file is' if waiting == 1 else 'files are'} new in the inbox: tagsheaf run")
    if last is None:
        print("There was no run yet." if waiting else "There was no run yet: put sheets into inbox/, then tagsheaf run")
        return 1 if waiting else 0
    print(
        f"Last run {last.today.isoformat()}: {last.figures.rows['clear']} rows clear, {last.figures.rows['held']} held."
    )
    print(last_line(last.figures))
    return last.exit_code
