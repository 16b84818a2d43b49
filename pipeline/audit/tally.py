"""What the tests said of a table, counted: how many records got which outcome, and examples of what was found."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

import numpy as np

from pipeline.audit.audit import Answered
from pipeline.audit.audit_test import COULD_NOT_SAY, Response
from pipeline.audit.columns import Column

RUN = "RUN_HAS_RESULT"
FOUND = frozenset({"NOT_COMPLIANT", "POTENTIAL_ISSUE", "AMENDED", "FILLED_IN"})
OUTCOMES = frozenset({"COMPLIANT", "NOT_COMPLIANT", "POTENTIAL_ISSUE", "NOT_ISSUE"})
MOST_RESPONSES = 50  # different ones of a piece of the table that are kept as examples
EXAMPLES = 3  # records of each


class Example(NamedTuple):
    """A record, counted from 1, and what stands in it under the test's terms."""

    record: int
    values: dict[str, str]


@dataclass
class Found:
    """A response that says that something is to be looked at: how many records got it, the first of them."""

    records: int
    examples: list[Example]


@dataclass
class Tally:
    """What one test said: records by outcome, the most frequent findings, least and greatest number of a measure."""

    label: str
    outcomes: Counter[str] = field(default_factory=Counter)
    found: dict[tuple[str, str], Found] = field(default_factory=dict)  # by result and comment
    are_all: bool = True  # whether `found` has every different response
    pieces: int = 0  # of the table, that were added up
    least: float | None = None
    greatest: float | None = None

    def add(self, other: Tally) -> None:
        """Adds what the same test said of other records."""
        self.outcomes += other.outcomes
        self.pieces += other.pieces
        self.are_all = self.are_all and other.are_all
        for key, more in other.found.items():
            if one := self.found.get(key):
                one.records += more.records
                one.examples = sorted([*one.examples, *more.examples], key=lambda each: each.record)[:EXAMPLES]
            else:
                self.found[key] = more
        self._keep_the_most_frequent()
        least, greatest = [self.least, other.least], [self.greatest, other.greatest]
        self.least = min((each for each in least if each is not None), default=None)
        self.greatest = max((each for each in greatest if each is not None), default=None)

    def number_found(self) -> int:
        """How many records have something to look at."""
        return sum(self.outcomes[outcome] for outcome in FOUND)

    def number_not_said(self) -> int:
        """About how many records the test could not say anything."""
        return sum(self.outcomes[outcome] for outcome in COULD_NOT_SAY)

    def are_exact(self) -> bool:
        """Whether the numbers of `found` are right, not only the least that it can be."""
        return self.are_all or self.pieces <= 1

    def most_frequent(self) -> list[tuple[str, str, Found]]:
        """The findings by number of records; result and comment first."""
        order = sorted(self.found.items(), key=lambda each: (-each[1].records, each[1].examples[0].record))
        return [(result, comment, one) for (result, comment), one in order]

    def _keep_the_most_frequent(self) -> None:
        if len(self.found) > 4 * MOST_RESPONSES:
            kept = self.most_frequent()[: 2 * MOST_RESPONSES]
            self.found = {(result, comment): one for result, comment, one in kept}
            self.are_all = False


@dataclass
class Tallied:
    """What all tests said of a table."""

    records: int = 0
    with_findings: int = 0  # records in which a validation or an issue found something
    uneven: int = 0  # records with more or fewer cells than there are headings
    tests: dict[str, Tally] = field(default_factory=dict)  # by label, in the order of the tests

    def add(self, other: Tallied) -> None:
        """Adds what the tests said of other records."""
        self.records += other.records
        self.with_findings += other.with_findings
        self.uneven += other.uneven
        for label, more in other.tests.items():
            self.tests.setdefault(label, Tally(label)).add(more)


def tallied(answers: Sequence[Answered], known: Mapping[str, Column], first: int, records: int) -> Tallied:
    """The answers about some records, the first of which has this number, counted."""
    has_finding = np.zeros(records, dtype=bool)
    tests = {}
    for one in answers:
        is_found = np.array([_outcome(said) in FOUND for said in one.responses.values], dtype=bool)
        tests[one.entry.test.label] = _tally(one, is_found, known, first)
        if one.entry.test.kind in ("Validation", "Issue") and is_found.any():
            has_finding |= is_found[one.responses.places]
    return Tallied(records, int(has_finding.sum()), 0, tests)


def _outcome(said: Response) -> str:
    return said.result if said.status == RUN and said.result in OUTCOMES else said.status


def _tally(one: Answered, is_found: np.ndarray, known: Mapping[str, Column], first: int) -> Tally:
    tally = Tally(one.entry.test.label, pieces=1)
    numbers = np.bincount(one.responses.places, minlength=len(one.responses.values))
    for said, number in zip(one.responses.values, numbers.tolist(), strict=True):
        tally.outcomes[_outcome(said)] += number
    if one.entry.test.kind == "Measure":
        results = [float(said.result) for said in one.responses.values if said.status == RUN]
        tally.least, tally.greatest = min(results, default=None), max(results, default=None)
    if is_found.any():
        kept = np.flatnonzero(is_found)
        kept = kept[np.argsort(-numbers[kept], kind="stable")]
        tally.are_all = len(kept) <= MOST_RESPONSES
        _give_examples(tally, one, kept[:MOST_RESPONSES], (known, first))
    return tally


def _give_examples(tally: Tally, one: Answered, kept: np.ndarray, known_from: tuple[Mapping[str, Column], int]) -> None:
    known, first = known_from
    terms = [term for term in one.entry.test.acted_upon + one.entry.test.consulted if term in known]
    is_kept = np.zeros(len(one.responses.values), dtype=bool)
    is_kept[kept] = True
    records = np.flatnonzero(is_kept[one.responses.places])
    order = records[np.argsort(one.responses.places[records], kind="stable")]
    ends = np.cumsum(np.bincount(one.responses.places[order], minlength=len(is_kept)))
    starts = np.concatenate([[0], ends[:-1]])
    for response in kept.tolist():
        said = one.responses.values[response]
        rows = order[starts[response] : ends[response]]
        examples = [
            Example(first + row, {term: str(known[term].values[known[term].places[row]]) for term in terms})
            for row in rows[:EXAMPLES].tolist()
        ]
        tally.found[said.result, said.comment] = Found(len(rows), examples)
