"""Every test of the audit, held against its own examples and the draft's list of tests.

Source: TDWG, Biodiversity Data Quality, draft for review of 2026-06-03 (CC BY 4.0): `tests/bdq/tests.csv` holds the
labels, ids, days, kinds and terms of its 95 single-record tests that concern our terms.
"""

from __future__ import annotations

import csv
import json
from datetime import date
from pathlib import Path

import pytest

from pipeline.audit.all_tests import Entry, all_tests
from pipeline.audit.audit import answered, counted_up
from pipeline.audit.audit_test import is_empty
from pipeline.audit.columns import Column, column
from pipeline.audit.sources import Sources
from pipeline.files.audit_sources import audit_sources

SPECIFIED = list(csv.DictReader(Path(__file__).with_name("bdq").joinpath("tests.csv").open(encoding="utf-8")))
OUTCOMES = {
    "Validation": ({"COMPLIANT"}, {"NOT_COMPLIANT"}),
    "Amendment": ({"AMENDED", "FILLED_IN"}, {"NOT_AMENDED"}),
    "Issue": ({"POTENTIAL_ISSUE"}, {"NOT_ISSUE"}),
    "Measure": ({"RUN_HAS_RESULT"},),
}

every_test = pytest.mark.parametrize("entry", [pytest.param(entry, id=entry.test.label) for entry in all_tests()])


@pytest.fixture(scope="module")
def sources() -> Sources:
    return audit_sources(date(2026, 11, 25))


def examples(entry: Entry) -> list[dict[str, str]]:
    """The rows of a test's table; `\\t` and `\\u00a0` may be written so, as what prints nothing."""
    lines = [line for line in entry.test.examples.splitlines() if line.strip()]
    heads, *rows = ([cell.strip() for cell in line.split("|")] for line in lines)
    return [
        {head: cell.encode("utf-8").decode("unicode_escape") if "\\" in cell else cell
         for head, cell in zip(heads, row, strict=True)}
        for row in rows
    ]  # fmt: skip


@every_test
def test_a_test_answers_its_own_examples_as_promised(entry: Entry, sources: Sources) -> None:
    for example in examples(entry):
        if entry.test.acted_upon:
            known = {term: column([example.get(term, "")]) for term in entry.test.acted_upon + entry.test.consulted}
            said = answered(entry, known, 1, sources).responses.values[0]
        else:
            counts = {name: Column([int(example[name])], column([""]).places) for name in entry.test.looked_up}
            said = counted_up(entry, counts).responses.values[0]
        expected = example["status"], example["result"]
        assert (said.status, _plain(said.result)) == (expected[0], _plain(expected[1])), example
        assert said.comment or said.result in {"COMPLIANT", "NOT_ISSUE"} or said.status == "NOT_AMENDED" or (
            entry.test.kind == "Measure"
        )  # fmt: skip


@every_test
def test_the_examples_show_every_outcome_and_a_record_to_which_it_does_not_apply(entry: Entry) -> None:
    said = [example["result"] if example["result"] in _words(entry) else example["status"]
            for example in examples(entry)]  # fmt: skip
    for one_of in OUTCOMES[entry.test.kind]:
        assert one_of & set(said)
    always_runs = entry.test.label.endswith("_NOTEMPTY") or entry.test.label in ALWAYS_RUN
    assert always_runs or "INTERNAL_PREREQUISITES_NOT_MET" in said


# As the draft specifies them, these never find the record wanting.
ALWAYS_RUN = {
    "AMENDMENT_GEODETICDATUM_ASSUMEDDEFAULT",
    "AMENDMENT_LICENSE_STANDARDIZED",
    "AMENDMENT_OCCURRENCESTATUS_ASSUMEDDEFAULT",
    "MEASURE_AMENDMENTS_PROPOSED",
}


@every_test
def test_a_test_is_named_and_described_as_the_draft_has_it(entry: Entry) -> None:
    test = entry.test
    (specified,) = [one for one in SPECIFIED if one["guid"] == test.test_id]
    assert (test.label, test.kind, test.updated) == (specified["label"], specified["type"], specified["updated"])
    assert entry.responds.__module__.endswith("." + test.label.lower())
    acted_upon, consulted = ({_bare(term) for term in specified[key].split(",")} for key in ("acted_upon", "consulted"))
    if acted_upon | consulted and not specified["consulted"].startswith("bdqval:"):
        assert set(test.acted_upon) == acted_upon and set(test.consulted) == consulted - {""}
    assert test.meaning[0].islower() and not test.meaning.endswith(".") and test.advice.endswith(".")


@every_test
def test_blanks_and_control_characters_alone_are_answered_as_empty(entry: Entry, sources: Sources) -> None:
    if not entry.test.acted_upon:
        return
    terms = entry.test.acted_upon + entry.test.consulted
    for nothing in (" ", "\t", "\u0000", "\r\n"):
        empty, blank = (answered(entry, {term: column([value]) for term in terms}, 1, sources).responses.values[0]
                        for value in ("", nothing))  # fmt: skip
        assert blank[:2] == empty[:2]


def test_every_test_that_needs_only_the_record_or_what_we_carry_is_there() -> None:
    have = {entry.test.test_id for entry in all_tests()}
    missing = {one["label"] for one in SPECIFIED if one["guid"] not in have}
    assert missing <= LEFT_OUT, sorted(missing - LEFT_OUT)
    assert len({one["guid"] for one in SPECIFIED if one["needs"] == "offline"} & have) == 75


LEFT_OUT: set[str] = set()


def _words(entry: Entry) -> set[str]:
    return {word for one_of in OUTCOMES[entry.test.kind] for word in one_of if word not in {"AMENDED", "FILLED_IN"}}


def _bare(term: str) -> str:
    return term.strip().partition(":")[2]


def _plain(result: str) -> object:
    return json.loads(result) if result.startswith("{") else result


def test_what_counts_as_empty_is_what_the_draft_says() -> None:
    assert is_empty("") and is_empty("\u001f ") and not is_empty("\u00a0") and not is_empty("null")
