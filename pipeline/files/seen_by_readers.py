"""Who the readers of finished files are: what is their own, what may be published, what is the programme's."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Mapping
from typing import NamedTuple

from pipeline.files.programme import ProgrammeFolder
from pipeline.files.seen_by_looking import CHILD, MAIL, NAME, POINT, Known, known_of
from pipeline.files.seen_by_tables import NEAR_HOME, THOUGH_ROUNDED

OWN, CONSENT, PROGRAMMES, OTHERS = (
    "the reader's own",
    "published with consent",
    "the programme's own",
    "SOMEBODY ELSE'S",
)
PUBLIC = "as published"


class Readers(NamedTuple):
    """Who is whom: what of a person belongs to whom, whose names may go out, and what is the programme's."""

    known: Known
    own: Mapping[str, frozenset[str]]  # by folder of volunteers/ or finders/: the reader's own, in small letters
    children: frozenset[str]  # folders about a child
    consent: frozenset[str]
    programmes: frozenset[str]


def readers_of(programme: ProgrammeFolder, ledger: sqlite3.Connection) -> Readers:
    """Everybody of the programme and every finder, from settings, people and ledger."""
    people, settings = programme.people, programme.settings
    lines = people.to_dict("records")
    minors = frozenset(line["person_id"] for line in lines if line["minor"] == "yes")
    marks = ", ".join("?" * len(minors))
    query = f"SELECT DISTINCT occurrence_id FROM rows WHERE occurrence_id != '' AND person_id IN ({marks})"
    finders = _finders(ledger)
    named = [name for line in lines for name in (line["name"], line["guardian_name"]) if name]
    named += [name for name, _ in finders.values() if name]
    signed = settings.letters.signed_by
    homes = zip(programme.homes["latitude"], programme.homes["longitude"], strict=True)
    mine = ("name", "guardian_name", "email", "guardian_email")
    return Readers(
        known_of(named, (one for (one,) in ledger.execute(query, sorted(minors))), homes),
        {line["person_id"]: frozenset(line[each].lower() for each in mine if line[each]) for line in lines}
        | {
            find: frozenset(each.lower() for each in (name, *addresses) if each)
            for find, (name, addresses) in finders.items()
        },
        minors,
        frozenset(line["name"] for line in lines if line["publish_name"] == "yes" and line["minor"] == "no"),
        frozenset(one.lower() for one in (settings.programme.contact, settings.letters.reply_to, signed) if one),
    )


def in_order(readers: Readers) -> str:
    """All of it as text, the same in every process: by it one tells whether a page would say the same again."""
    known = readers.known
    told = [
        known.names,
        known.children,
        known.homes,
        readers.own,
        readers.children,
        readers.consent,
        readers.programmes,
    ]
    return json.dumps(told, sort_keys=True, default=sorted)


def _finders(ledger: sqlite3.Connection) -> dict[str, tuple[str, list[str]]]:
    """By the folder of a find: the name and the addresses that its finder gave, if nobody of people.csv found it."""
    finds = [(key, json.loads(line)) for key, line in ledger.execute("SELECT key, line FROM finds")]
    return {
        key.replace("-", "")[:12]: (find["recordedBy"], MAIL.findall(find["contact"]))
        for key, find in finds
        if not find["person_id"]
    }


def whose(text: str, kind: str, reader: str, readers: Readers) -> str:
    """Whose a finding in a file is, seen from its reader; `reader` is a folder, "" for the public."""
    plain = text.lower()
    if reader and (plain in readers.own.get(reader, ()) or kind in (POINT, CHILD)):
        return OWN
    if kind == NAME and not reader and text in readers.consent:
        return CONSENT
    if plain in readers.programmes:
        return PROGRAMMES
    if kind in (POINT, CHILD) and not text.endswith((NEAR_HOME, THOUGH_ROUNDED)):
        return PUBLIC
    return OTHERS
