"""Findings that were answered: confirmed as long as what the rule read stays so, or at rest."""

from __future__ import annotations

from typing import Any

import pandas as pd
import pytest

from pipeline.remembered import WAIVERS, nothing
from pipeline.stages.confirm import about, confirmed, place_of

FINDING: dict[str, Any] = {
    "key": "k1", "file_sha256": "5a", "sheet": "Tags", "row": 12, "column": "C", "field": "forewingLength",
    "rule": "forewing_outside_bounds", "fingerprint": "f1", "state": "open", "severity": "please-check",
}  # fmt: skip
OF_HEADING = {"key": "", "row": 1, "column": "D", "field": "eventDate", "rule": "heading_may_be_a_needed_one"}
OF_FILE = {"key": "", "sheet": "", "row": 0, "column": "", "field": "", "rule": "sender_not_known"}
WAIVER = {"key": "k1", "rule": "forewing_outside_bounds", "fingerprint": "f1"}


def findings_of(*found: dict[str, Any]) -> pd.DataFrame:
    return pd.DataFrame([FINDING | one for one in found], columns=list(FINDING), index=range(7, 7 + len(found)))


def waivers_of(*waivers: dict[str, str]) -> pd.DataFrame:
    return pd.DataFrame([WAIVER | one for one in waivers], columns=list(WAIVERS), dtype="str")


PLACES = [
    ("a row", {}, "k1"),
    ("a heading", OF_HEADING, "5a|Tags|1|D"),
    ("a missing column", {**OF_HEADING, "column": ""}, "5a|Tags|1|"),
    ("a file", OF_FILE, "5a||0|"),
    ("a sheet whose name holds a bar", {**OF_HEADING, "sheet": "Tags|2"}, "5a|Tags|2|1|D"),
]


@pytest.mark.parametrize(("finding", "name"), [case[1:] for case in PLACES], ids=[case[0] for case in PLACES])
def test_a_finding_is_about_its_row_or_else_its_place_in_the_file(finding: dict[str, Any], name: str) -> None:
    assert about(findings_of(finding)).tolist() == [name]
    if (FINDING | finding)["key"] == "":
        assert place_of(FINDING | finding) == name


STATES: list[tuple[str, dict[str, Any], list[dict[str, str]], set[tuple[str, str]], str]] = [
    ("nothing was answered", {}, [], set(), "open"),
    ("it was confirmed", {}, [{}], set(), "waived"),
    ("it was confirmed of another row", {}, [{"key": "k2"}], set(), "open"),
    ("another rule was confirmed", {}, [{"rule": "forewing_far_from_the_others"}], set(), "open"),
    ("what the rule read has changed since", {"fingerprint": "f2"}, [{}], set(), "open"),
    ("it was confirmed twice, first of other values", {}, [{"fingerprint": "f0"}, {}], set(), "waived"),
    ("nobody knows more of its cell", {}, [], {("k1", "forewingLength")}, "answered"),
    ("nobody knows more of another cell of its row", {}, [], {("k1", "sex")}, "open"),
    ("nobody knows more of that cell in another row", {}, [], {("k2", "forewingLength")}, "open"),
    ("it was confirmed, and nobody knows more", {}, [{}], {("k1", "forewingLength")}, "waived"),
    ("what is told and not asked", {"state": "noted", "fingerprint": ""}, [{"fingerprint": ""}], set(), "noted"),
    ("what is told of a cell of which nobody knows more", {"state": "noted"}, [], {("k1", "forewingLength")}, "noted"),
    (
        "a heading was confirmed",
        OF_HEADING,
        [{"key": "5a|Tags|1|D", "rule": "heading_may_be_a_needed_one"}],
        set(),
        "waived",
    ),
    (
        "the same heading in another file",
        {**OF_HEADING, "file_sha256": "5b"},
        [{"key": "5a|Tags|1|D", "rule": "heading_may_be_a_needed_one"}],
        set(),
        "open",
    ),
    ("nobody knows what a heading means", OF_HEADING, [], {("5a|Tags|1|D", "eventDate")}, "answered"),
    ("nobody knows whose a file is", OF_FILE, [], {("5a||0|", "")}, "answered"),
]


@pytest.mark.parametrize(
    ("finding", "waivers", "at_rest", "state"), [case[1:] for case in STATES], ids=[case[0] for case in STATES]
)
def test_a_finding_is_open_until_it_was_confirmed_or_nobody_knows_more(
    finding: dict[str, Any], waivers: list[dict[str, str]], at_rest: set[tuple[str, str]], state: str
) -> None:
    found = findings_of(finding)
    done = confirmed(found, waivers_of(*waivers), at_rest)
    assert done["state"].tolist() == [state]
    pd.testing.assert_frame_equal(done.drop(columns="state"), found.drop(columns="state"))


def test_each_finding_is_looked_at_by_itself() -> None:
    found = findings_of({}, {"key": "k2"}, {"key": "k3"}, OF_HEADING)
    done = confirmed(found, waivers_of({"key": "k2"}), {("k3", "forewingLength")})
    assert done["state"].tolist() == ["open", "waived", "answered", "open"]
    assert done.index.equals(found.index)


def test_no_findings_are_confirmed_by_nothing() -> None:
    none = findings_of()
    assert confirmed(none, waivers_of({}), {("k1", "sex")}).empty
    found = findings_of({})
    assert confirmed(found, nothing(WAIVERS), set()) is found, "nothing to look up"
