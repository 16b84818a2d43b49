"""The letters to finders who are not in people.csv, from what the ledger knows of their finds."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Mapping
from datetime import timedelta
from typing import Any

from pipeline.examine import find_id
from pipeline.files.asked import Found
from pipeline.files.asking import Shared, questions_of
from pipeline.files.open_questions import Open
from pipeline.files.shown_km import shown_km
from pipeline.season import Season


def finders_of(season: Season, now: Open, shared: Shared) -> list[Found]:
    """A letter for each find that nobody of people.csv reported."""
    questions: dict[str, list[Mapping[str, Any]]] = {}
    for question in now.questions:
        questions.setdefault(question["addressee"], []).append(question)
    finds = [(key, json.loads(line)) for key, line in season.ledger.execute("SELECT key, line FROM finds ORDER BY key")]
    km = shown_km(season.ledger, season.programme.settings.privacy.home_square_degrees)
    return [
        _found(key, find | {"km": km.get(key)}, questions.get(f"finders/{find_id(key)}", ()), shared)
        for key, find in finds
        if not find["person_id"]
    ]


def _found(key: str, find: Mapping[str, Any], asked: Iterable[Mapping[str, Any]], shared: Shared) -> Found:
    number, settings, letters = find_id(key), shared.settings, shared.settings.letters
    mail = re.search(r"[^\s<>,;]+@[^\s<>,;]+", find["contact"])
    places = (find["municipality"] or find["locality"], find["stateProvince"], find["countryCode"])
    is_known = find["release_state"] in ("clear", "past")
    return Found(
        find_id=number, name=find["recordedBy"], email=mail.group() if mail else "", language="en",
        tag=find["tag"], found_on=find["eventDate"], found_at=", ".join(filter(None, places)),
        released_on=find["released_on"] if is_known else "", released_in=find["released_in"] if is_known else "",
        km=find["km"] if is_known else None,
        days=int(float(find["days"])) if is_known and find["days"] else None,
        questions=questions_of(asked, shared, "en"), due=shared.today + timedelta(days=letters.days_to_answer),
        today=shared.today, programme_name=settings.programme.name, contact=settings.programme.contact,
        signed_by=letters.signed_by, reply_to=letters.reply_to, seed=f"{shared.seed}/{number}",
    )  # fmt: skip
