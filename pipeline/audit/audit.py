"""All tests on one table: one response for each record and test."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from functools import partial
from itertools import starmap
from operator import add
from typing import NamedTuple

import numpy as np

from pipeline.audit.all_tests import Entry, all_tests
from pipeline.audit.audit_test import COULD_NOT_SAY, AuditTest, Response, is_empty
from pipeline.audit.columns import Column, blank, each_once, together
from pipeline.audit.iso_day import day_alone
from pipeline.audit.looked_up import looked_up
from pipeline.audit.sources import Sources


class Answered(NamedTuple):
    """What a test said: its different responses, and which of them each record got."""

    entry: Entry
    responses: Column


# The sets of values of some terms, kept for the next test that looks at the same.
Asked = dict[tuple[bool, bool, tuple[str, ...]], Column]


def audited(known: Mapping[str, Column], records: int, sources: Sources) -> list[Answered]:
    """Every test's answers to a table, a column for each term; a term that it has no column for is empty."""
    asked: Asked = {}
    of_terms = [answered(one, known, records, sources, asked) for one in all_tests() if one.test.acted_upon]
    counts = counts_of(of_terms, records)
    return of_terms + [counted_up(one, counts) for one in all_tests() if not one.test.acted_upon]


def answered(
    entry: Entry, known: Mapping[str, Column], records: int, sources: Sources, asked_before: Asked | None = None
) -> Answered:
    """One test's answers, each different set of values asked about once."""
    asked = _asked(entry.test, known, records, {} if asked_before is None else asked_before)
    facts = looked_up(entry.test, asked.values, sources) if entry.test.looked_up else None
    parameters = {name: getattr(sources, name) for name in entry.test.parameters}
    responds = partial(entry.responds, **parameters) if parameters else entry.responds
    values = asked.values if facts is None else map(add, asked.values, facts)
    return _answered(entry, list(starmap(responds, values)), asked)


def _asked(test: AuditTest, known: Mapping[str, Column], records: int, asked: Asked) -> Column:
    terms = test.acted_upon + test.consulted
    key = test.sees_only_whether_filled, test.sees_no_time, terms
    if key not in asked:
        columns = [known.get(term) or blank(records) for term in terms]
        if test.sees_only_whether_filled:
            columns = [_whether_filled(one) for one in columns]
        if test.sees_no_time:
            columns = [one.seen_as([day_alone(text) for text in one.values]) for one in columns]
        asked[key] = together(columns)
    return asked[key]


def _whether_filled(term: Column) -> Column:
    # What begins with a sign is filled; only what does not is looked at to its end.
    return term.seen_as(["filled" if text[:1] > " " or not is_empty(text) else "" for text in term.values])


def counted_up(entry: Entry, counts: Mapping[str, Column]) -> Answered:
    """The answers of a test that counts what the others said."""
    asked = together([counts[name] for name in entry.test.looked_up])
    return _answered(entry, [entry.responds(*numbers) for numbers in asked.values], asked)


def counts_of(answers: Sequence[Answered], records: int) -> dict[str, Column]:
    """For each record how many validations ran, with what result, and how many amendments were proposed."""
    validations = [one for one in answers if one.entry.test.kind == "Validation"]
    amendments = [one for one in answers if one.entry.test.kind == "Amendment"]
    numbers = {
        "validations": np.full(records, len(validations)),
        "validations_compliant": _how_many(validations, records, {"COMPLIANT"}),
        "validations_not_compliant": _how_many(validations, records, {"NOT_COMPLIANT"}),
        "validations_without_prerequisites": _how_many(validations, records, COULD_NOT_SAY),
        "amendments": np.full(records, len(amendments)),
        "amendments_proposed": _how_many(amendments, records, {"AMENDED", "FILLED_IN"}),
    }
    return {name: Column(*each_once(each.tolist())) for name, each in numbers.items()}


def _how_many(answers: Sequence[Answered], records: int, outcomes: Collection[str]) -> np.ndarray:
    number = np.zeros(records, dtype=np.int64)
    for one in answers:
        is_such = np.array([not {*outcomes}.isdisjoint(said[:2]) for said in one.responses.values], dtype=bool)
        number += is_such[one.responses.places] if len(is_such) else 0
    return number


def _answered(entry: Entry, said: Sequence[Response], asked: Column) -> Answered:
    different, places = each_once(said)
    return Answered(entry, Column(different, places[asked.places]))
