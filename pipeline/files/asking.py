"""Builds what each person is told and asked, in their language, from the findings, questions and sheets."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from functools import cache
from typing import Any

from pipeline.catalogue import Entry
from pipeline.files.asked import Asked, Question, TagShown
from pipeline.files.labels import in_words, labels, language_of
from pipeline.files.rounds import Round
from pipeline.files.rows_shown import sheets_of
from pipeline.files.schemas import text
from pipeline.model import Table
from pipeline.settings import Settings
from pipeline.values.ref import ref_of
from pipeline.values.wording import spoken

AS_WRITTEN = ("seen", "heading", "row", "column", "sheet", "tagCode", "typed", "ref", "value")
COORDINATOR = "coordinator"


@dataclass(frozen=True)
class Mine:
    """What one person is told: questions, for-information findings, tags of the season that were not heard of."""

    questions: Sequence[Mapping[str, Any]] = ()
    information: Sequence[Mapping[str, Any]] = ()
    tags: Sequence[str] = ()


@dataclass(frozen=True)
class Shared:
    """What all letters of a run share."""

    settings: Settings
    entries: Mapping[str, Entry]
    tables: Mapping[tuple[str, str], Sequence[Table]]  # by SHA-256 of the file and sheet
    findings: Sequence[Mapping[str, Any]]  # with the row's tag
    today: date
    seed: str


def questions_of(asked: Iterable[Mapping[str, Any]], shared: Shared, language: str) -> tuple[Question, ...]:
    """A person's open questions as finished sentences."""
    return tuple(_question(line, shared, language) for line in asked)


def _question(line: Mapping[str, Any], shared: Shared, language: str) -> Question:
    first = shared.findings[line["finding"]]
    members = [shared.findings[finding] for finding in line["findings"]]
    rows = tuple(sorted({int(member["row"]) for member in members if member["row"]}))
    rule = _rule_words(shared.entries[first["rule"]], language)
    suggestion = in_words(first["field"], first["suggestion"], language)
    said = _said(first["words"], language) | {"suggestion": suggestion}
    wonder = spoken(rule["message"], rule["unsuggested"], said)
    if len(rows) > 1:
        wonder = labels(language)["same_in_rows"].format(n=len(rows), wonder=wonder)
        if len({member["suggestion"] for member in members}) > 1:
            suggestion = labels(language)["each_row_its_own"].format(suggestion=suggestion)
    return Question(
        ref=line["ref"], number=line["number"], row=int(first["row"]) if len(rows) < 2 else 0, tag=first["tag"],
        seen=first["seen"], wonder=wonder, suggestion=suggestion, why=rule["why"], kind=first["severity"],
        file=first["file"], sheet=first["sheet"], column=first["column"], field=first["field"], rows=rows,
        n_rows=len(rows), file_sha256=first["file_sha256"], is_waivable=shared.entries[first["rule"]].rule.waivable,
    )  # fmt: skip


def _said(words: str, language: str) -> dict[str, str]:
    """The words of a finding as the reader would say them; what the sender wrote stays as written."""
    said: dict[str, str] = json.loads(words)
    return {
        name: value
        if name in AS_WRITTEN
        else value.rsplit("/", 1)[-1]
        if name == "file"
        else in_words("", value, language)
        for name, value in said.items()
    }


@cache
def _translated(language: str) -> dict[str, dict[str, str]]:
    lines = csv.DictReader(io.StringIO(text(f"messages/{language}.csv")))
    return {line["rule"]: line for line in lines}


def _rule_words(entry: Entry, language: str) -> dict[str, str]:
    rule = entry.rule
    own = {"message": rule.message, "unsuggested": rule.unsuggested, "why": rule.why, "title": rule.title}
    if language_of(language) == "en":
        return own
    return {**own, **_translated(language_of(language)).get(entry.name, {})}


def told(information: Iterable[Mapping[str, Any]], shared: Shared, language: str) -> tuple[str, ...]:
    """The for-information sentences, each once; of a rule that speaks of many rows the first only."""
    once = {_spoken_once(shared, line): line for line in reversed(list(information))}
    return tuple(_told(shared.entries[one["rule"]], one["words"], language) for one in reversed(once.values()))


def _spoken_once(shared: Shared, line: Mapping[str, Any]) -> tuple[str, str]:
    """What is told once: a rule about rows with the first of them, a rule about answers for each answer."""
    is_about_answers = shared.entries[line["rule"]].rule.scope == "answer"
    return line["rule"], line["words"] if is_about_answers else ""


def _told(entry: Entry, words: str, language: str) -> str:
    rule = _rule_words(entry, language)
    return spoken(rule["message"], rule["unsuggested"], _said(words, language))


def asked_of(person: Mapping[str, str], mine: Mine, shared: Shared, rows: tuple[int, int], letter: Round) -> Asked:
    """One person's letter; of their `rows` so many are ready and so many wait."""
    language, letters = person["language"], shared.settings.letters
    questions = questions_of(mine.questions, shared, language)
    return Asked(
        person_id=person["person_id"], name=person["name"], email=person["email"], language=language,
        is_minor=person["minor"] == "yes",
        guardian_name=person["guardian_name"], guardian_email=person["guardian_email"],
        questions=questions, sheets=sheets_of(questions, shared.tables, labels(language)),
        tags=tuple(TagShown(tag_ref(person["person_id"], tag) if questions else "", tag) for tag in mine.tags),
        rows_read=sum(rows), rows_clear=rows[0], rows_held=rows[1],
        told=told(mine.information, shared, language), due=letter.due,
        today=shared.today, programme_name=shared.settings.programme.name, contact=shared.settings.programme.contact,
        signed_by=letters.signed_by, reply_to=letters.reply_to, seed=f"{shared.seed}/{person['person_id']}",
        reminder=letter.reminder, wrote_on=letter.wrote_on, is_last_reminder=letter.is_last,
        write_on=letter.write_on, rests=letter.rests,
    )  # fmt: skip


def tag_ref(person: str, tag: str) -> str:
    """The Ref of a tag on the page of tags."""
    return ref_of(f"{person}|tag|{tag}")


def coordinator_asked(everything: Sequence[Mapping[str, Any]], shared: Shared) -> Asked:
    """The coordinator's book: everybody's open questions and the coordinator's own."""
    person = dict.fromkeys(("email", "guardian_name", "guardian_email", "minor"), "")
    person |= {"person_id": COORDINATOR, "name": "", "language": shared.settings.programme.languages[0]}
    asked = asked_of(person, Mine(everything), shared, (0, 0), Round(shared.today))
    whose = {line["ref"]: line["addressee"] for line in everything}
    own_first = sorted(asked.questions, key=lambda one: (whose[one.ref] != COORDINATOR, whose[one.ref], one.number))
    questions = tuple(
        replace(
            question, number=number, is_waivable=True, file=f"{whose[question.ref]}: {question.file.rsplit('/', 1)[-1]}"
        )
        for number, question in enumerate(own_first, start=1)
    )
    return replace(asked, questions=questions, sheets=())
