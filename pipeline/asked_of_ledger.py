"""The questions that a returned file is about, as the ledger knows them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cache
from typing import Any, NamedTuple

from pipeline.catalogue import catalogue
from pipeline.files.asked_before import Given, answers_with, findings_with, questions_with, values_of
from pipeline.files.ledger import LIVE
from pipeline.files.question_wording import wonders_of
from pipeline.model import AnswerLine
from pipeline.rule import Rule
from pipeline.season import Season
from pipeline.stages.confirm import place_of
from pipeline.stages.decide import Asked, Cell

STANDS = ("open", "noted", "waived", "answered")


def asked_of_ledger(season: Season, lines: Sequence[AnswerLine], sender: str) -> dict[str, Asked]:
    """By Ref: every question that a line names, and all that the sender was ever asked."""
    ledger = season.ledger
    refs = {line.ref for line in lines if line.about == "question"}
    questions = questions_with(ledger, refs, sender)
    findings = findings_with(ledger, [line["ref"] for line in questions])
    every = [one for of_ref in findings.values() for one in of_ref]
    keys = {one["key"] for one in every if one["key"]}
    values, given = values_of(ledger, keys), answers_with(ledger, {one["key"] or place_of(one) for one in every})
    gone = {key for (key,) in ledger.execute(f"SELECT key FROM withdrawals WHERE {LIVE}")}
    is_damaged = any(_is_damaged(line, questions) for line in lines)
    wonders = _wonders(season, questions, findings) if is_damaged else {}
    known = _known(values, given, gone)
    return {
        line["ref"]: _asked(line, findings.get(line["ref"], []), known, wonders.get(line["ref"], ""))
        for line in questions
    }


def _wonders(
    season: Season, questions: Sequence[Mapping[str, Any]], findings: Mapping[str, Sequence[Mapping[str, Any]]]
) -> dict[str, str]:
    people = season.programme.people
    spoken = dict(zip(people["person_id"], people["language"], strict=True))
    entries = {entry.name: entry for entry in catalogue()}
    return wonders_of(questions, findings, spoken, (season.programme.settings, entries, season.today))


class _Known(NamedTuple):
    """What the ledger says of rows: values by key, answers by cell and by Ref, which were withdrawn."""

    values: Mapping[str, Mapping[str, tuple[str, str]]]
    last: Mapping[tuple[str, str], Given]
    given: Mapping[str, set[tuple[str, str]]]
    gone: set[str]


def _known(values: Mapping[str, Mapping[str, tuple[str, str]]], answers: Sequence[Given], gone: set[str]) -> _Known:
    given: dict[str, set[tuple[str, str]]] = {}
    for one in answers:
        given.setdefault(one.ref, set()).add((one.choice, one.value))
    return _Known(values, {(one.key, one.field): one for one in answers}, given, gone)


@cache
def rules_by_name() -> dict[str, Rule]:
    """Every rule of today's catalogue."""
    return {entry.name: entry.rule for entry in catalogue()}


def _is_damaged(line: AnswerLine, questions: Sequence[Mapping[str, Any]]) -> bool:
    return line.about == "question" and bool(line.ref) and line.ref not in {one["ref"] for one in questions}


def _asked(question: Mapping[str, Any], findings: Sequence[Mapping[str, Any]], known: _Known, wonder: str) -> Asked:
    rules = rules_by_name()
    leading = next((one for one in findings if one["identity"] == question["leading"]), findings[0] if findings else {})
    is_open = question["state"] == "open"
    counts = [one for one in findings if not is_open or one["state"] == "open"] or findings
    return Asked(
        ref=question["ref"],
        number=question["number"],
        addressee=question["addressee"],
        rule=question["rule"],
        wonder=wonder,
        tag=known.values.get(leading.get("key", ""), {}).get("tagCode", ("", ""))[0],
        is_open=is_open,
        is_waivable=question["rule"] not in rules or rules[question["rule"]].waivable,
        cells=tuple(_cell(one, known) for one in counts),
        given=frozenset(known.given.get(question["ref"], ())),
        is_of_table=bool(findings) and not any(one["key"] for one in findings),
    )


def _cell(finding: Mapping[str, Any], known: _Known) -> Cell:
    key, field = finding["key"], finding["field"]
    was = (finding["seen"], finding["value"])
    of_row = known.values.get(key, {})
    last = known.last.get((key, field))
    rule = rules_by_name().get(finding["rule"])
    return Cell(
        key=key or place_of(finding),
        field=field,
        rule=finding["rule"],
        severity=finding["severity"],
        suggestion=finding["suggestion"],
        fingerprint=finding["fingerprint"],
        was=was,
        now=(of_row.get(field, ("", "")) if key else was),
        changed_by=last.who if last else "",
        is_current=not key or (key in known.values and key not in known.gone),
        is_found=finding["state"] in STANDS,
        decides=rule.decides if rule else "",
        others=of_row,
    )
