"""The command `status`: what waits and what to do next."""

from __future__ import annotations

import sqlite3
from collections.abc import Sequence
from datetime import date
from pathlib import Path

from pipeline.commands.words import line_of
from pipeline.files.arrivals import plan
from pipeline.files.attachments import with_attachments
from pipeline.files.intake import find_files
from pipeline.files.learnt import headings_learnt
from pipeline.files.ledger import open_ledger
from pipeline.files.programme import ProgrammeFolder, read_programme
from pipeline.files.rounds import round_of, rounds_sent
from pipeline.files.runs import Run, last_run
from pipeline.stages.ask import COORDINATOR
from pipeline.values.wording import last_line, questions_in_words

NAMED_MOST = 12
AGES = ((7, "under a week old"), (28, "one to four weeks old"), (10_000, "older than four weeks"))


def status_command(folder: Path, today: date | None = None) -> int:
    """Prints what came, what is open and what to do next; changes nothing. 1 if anything is asked."""
    programme = read_programme(folder)
    day = today or date.today()
    print(f"{programme.settings.programme.name}, season {programme.settings.season.label}")
    ledger = open_ledger(folder / "programme" / "ledger.sqlite", programme.settings.programme.id, is_trial=True)
    try:
        intake, _ = with_attachments(find_files(folder / "inbox"), ledger)
        planned = plan(intake.arrivals, ledger)
        waiting = len(planned.new) + len(planned.copies) + len(planned.moved)
        last = last_run(ledger)
        lines = _of_season(ledger, programme, last, day) if last else []
    finally:
        ledger.close()
    print("\n".join(lines), end="\n" if lines else "")
    if waiting:
        print(f"{waiting} {'file is' if waiting == 1 else 'files are'} new in the inbox: tagsheaf run")
    if last is None:
        print("There was no run yet." if waiting else "There was no run yet: put sheets into inbox/, then tagsheaf run")
        return 1 if waiting else 0
    if not last.mark:
        print("The ledger was changed by hand since the last run: tagsheaf run")
    print("\n".join(line_of("", last_line(last.figures))))
    return last.exit_code


def _of_season(ledger: sqlite3.Connection, programme: ProgrammeFolder, last: Run, today: date) -> list[str]:
    wrote = {one for (one,) in ledger.execute("SELECT DISTINCT person_id FROM rows")}
    silent = [person for person in programme.people["person_id"] if person not in wrote]
    lines = [
        f"Last run {last.today.isoformat()}: {last.figures.rows['clear']} rows clear, {last.figures.rows['held']} held."
    ]
    if silent:
        lines += line_of("No sheet seen yet", _some(silent))
    if last.figures.tags.get("not heard of"):
        lines.append(f"Tags not heard of: {last.figures.tags['not heard of']} of {sum(last.figures.tags.values())}")
    learnt = headings_learnt(ledger)
    if learnt:
        lines += line_of("Headings learnt", _some([f'{person} "{one}" is {field}' for person, one, field in learnt]))
    return [*lines, *_by_age(ledger, today), *_rounds(ledger, programme, today), *_batches(ledger)]


def _by_age(ledger: sqlite3.Connection, today: date) -> list[str]:
    """How many open questions of people are how old."""
    query = "SELECT since FROM questions WHERE state = 'open' AND addressee != ?"
    ages = [(today - date.fromisoformat(since)).days for (since,) in ledger.execute(query, (COORDINATOR,))]
    counts = []
    youngest = 0
    for limit, words in AGES:
        count = sum(youngest <= age < limit for age in ages)
        counts += [f"{count} {words}"] if count else []
        youngest = limit
    return line_of("Open", f"{questions_in_words(len(ages))}: {', '.join(counts)}") if ages else []


def _rounds(ledger: sqlite3.Connection, programme: ProgrammeFolder, today: date) -> list[str]:
    """Who is to be written to, who to be reminded, whose answer is awaited, whose rows rest."""
    sent = rounds_sent(ledger)
    asked: dict[str, list[str]] = {}
    query = "SELECT addressee, ref FROM questions WHERE state = 'open' AND addressee != ?"
    for person, ref in ledger.execute(query, (COORDINATOR,)):
        asked.setdefault(person, []).append(ref)
    groups: dict[str, list[str]] = {"Write to": [], "Remind": [], "Answers due": [], "At rest": []}
    for person, refs in sorted(asked.items()):
        letter = round_of(sent.get(person, []), refs, today, programme.settings.letters)
        if letter.rests:
            groups["At rest"].append(person)
        elif not letter.reminder:
            groups["Write to"].append(person)
        elif letter.write_on and letter.write_on <= today:
            groups["Remind"].append(person)
        else:
            groups["Answers due"].append(person)
    return [line for name, people in groups.items() if people for line in line_of(name, _some(people))]


def _batches(ledger: sqlite3.Connection) -> list[str]:
    query = "SELECT batch_id FROM batches WHERE batch_id NOT IN (SELECT batch_id FROM delivered) ORDER BY batch_id"
    waiting = [one for (one,) in ledger.execute(query)]
    return line_of("Not yet noted as delivered", _some(waiting)) if waiting else []


def _some(names: Sequence[str]) -> str:
    return ", ".join(names[:NAMED_MOST]) + (f" and {len(names) - NAMED_MOST} more" if len(names) > NAMED_MOST else "")
