"""The command `sent`: letters went out, so a round begins."""

from __future__ import annotations

import json
from collections.abc import Sequence
from datetime import date, timedelta
from pathlib import Path

from pipeline.commands.acts import THEN_RUN, act
from pipeline.files.journal import Entry, write_down
from pipeline.files.ledger import add
from pipeline.season import Season
from pipeline.settings import SettingsWrong
from pipeline.stages.ask import COORDINATOR


def sent_command(people: Sequence[str], is_all: bool, on: date | None, folder: Path) -> int:
    """Notes that the letters to these people, or to all with questions, were sent; starts their due dates."""
    with act(folder, None) as (season, run):
        day = on or season.today
        asked = _asked(season)
        wanted = sorted(asked) if is_all else [_known(person, season) for person in people]
        for person in wanted:
            refs = asked.get(person, [])
            add(
                season.ledger,
                "rounds",
                {"person_id": person, "day": day.isoformat(), "refs": json.dumps(refs), "run": run},
            )
            entry = Entry("coordinator", "letter sent", person, became=f"{len(refs)} questions")
            write_down(season.ledger, (day, run), [entry])
    due = day + timedelta(days=season.programme.settings.letters.days_to_answer)
    without = [person for person in wanted if person not in asked]
    if without:
        print(f"Nothing is asked of {', '.join(without)}: their letter is noted all the same.")
    print(f"Noted: letters to {len(wanted)} sent on {day}, answers are due by {due}. {THEN_RUN}")
    return 0


def _asked(season: Season) -> dict[str, list[str]]:
    """The Refs of the open questions by the person who gets the letter."""
    asked: dict[str, list[str]] = {}
    query = "SELECT addressee, ref FROM questions WHERE state = 'open' AND addressee != ? ORDER BY number"
    for person, ref in season.ledger.execute(query, (COORDINATOR,)):
        asked.setdefault(person, []).append(ref)
    return asked


def _known(person: str, season: Season) -> str:
    people = {one.lower(): one for one in season.programme.people["person_id"]}
    finders = {one for (one,) in season.ledger.execute("SELECT DISTINCT addressee FROM questions")}
    if person.lower() in people:
        return str(people[person.lower()])
    if person in finders:
        return person
    raise SettingsWrong(f"Nobody in people.csv has the person_id {person}: look it up there, or use --all.")
