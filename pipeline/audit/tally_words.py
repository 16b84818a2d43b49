"""What the tests said, in words that the terminal, the page and other programs share."""

from __future__ import annotations

from collections.abc import Mapping

from pipeline.audit.audit_test import COULD_NOT_SAY, Kind
from pipeline.audit.tally import RUN, Tallied, Tally

DRAFT = "TDWG's Biodiversity Data Quality draft of 2026-06-03"
# Each kind of test: what it is, and its outcomes in words, what is to be looked at first; one more is the same for all.
KINDS: Mapping[Kind, str] = {
    "Validation": "asks whether what stands in a record can be used",
    "Issue": "points at what whoever uses the record should look at first",
    "Amendment": "proposes a better or a missing value; nothing is changed",
    "Measure": "counts or measures, and judges nothing",
}
OUTCOMES: Mapping[Kind, Mapping[str, tuple[str, ...]]] = {
    "Validation": {"did not comply": ("NOT_COMPLIANT",), "complied": ("COMPLIANT",)},
    "Issue": {"to be looked at": ("POTENTIAL_ISSUE",), "nothing to look at": ("NOT_ISSUE",)},
    "Amendment": {"proposed": ("AMENDED", "FILLED_IN"), "nothing to propose": ("NOT_AMENDED",)},
    "Measure": {"measured": (RUN,)},
}
NOT_SAID = "could not say"
# How the meaning of a test is to be read.
LEADS: Mapping[Kind, str] = {
    "Validation": "Wanted", "Issue": "Pointed out", "Amendment": "Proposed", "Measure": "Measured",
}  # fmt: skip


def numbers_of(kind: Kind, tally: Tally) -> dict[str, int]:
    """How many records got which outcome, in words."""
    outcomes = {**OUTCOMES[kind], NOT_SAID: COULD_NOT_SAY}
    return {words: sum(tally.outcomes[outcome] for outcome in each) for words, each in outcomes.items()}


def next_step(said: Tallied, where: str) -> str:
    """What it means, and what to do; `where` says where each test is explained."""
    if not said.records:
        return "The table has headings and no records, so there was nothing to test."
    found = [tally for tally in said.tests.values() if tally.number_found()]
    if not found:
        return f"No test found anything to look at. What could not be said stands {where}."
    return (
        f"{len(found)} of {len(said.tests)} tests found something. Begin with those that found the most: what each "
        f"means, which records it is about and what to do stands {where}. Nothing was changed."
    )
