"""Every rule, held against its own examples. No rule is named here: to test a new one, write its file."""

from __future__ import annotations

import re
from collections import Counter
from pathlib import Path
from string import Formatter
from typing import Any, NamedTuple

import pandas as pd
import pytest
from example_tables import KEYS, Example, column_types, empty, field_columns, read_examples

import pipeline.rules
from pipeline.catalogue import Entry, catalogue
from pipeline.rules_page import PAGE, rules_page

RULES = Path(pipeline.rules.__file__).parent

every_rule = pytest.mark.parametrize(
    "entry", [pytest.param(entry, id=f"{entry.subject}/{entry.name}") for entry in catalogue()]
)

# Words that are never ours for data, and verdicts on it. A spreadsheet calls some of its own cells
# errors: only the rules about damage speak of those.
NEVER = re.compile(
    r"\b(issues?|errors?|violations?|submissions?|dataset rows?|recover(y|ies)|sightings?|recaptures?|"
    r"mismatch(es)?|invalid|unlikely)\b",
    re.IGNORECASE,
)

# Placeholders that every message may use, beside the rule's own fields and facts.
PLACEHOLDERS = {"row", "seen", "suggestion", "file", "sheet", "column", "heading", "what"}


class Outcome(NamedTuple):
    """What a rule said of one table."""

    found: pd.Series[bool]
    suggested: dict[str, pd.Series[str]]


def columns_read(entry: Entry) -> list[str]:
    """What the rule declares and the keys that every row has: it is given nothing else."""
    keys = [key for key in KEYS if key in column_types(entry.rule.scope)]
    return list(dict.fromkeys((*keys, *entry.rule.fields, *entry.rule.looked_up)))


def say(entry: Entry, cells: pd.DataFrame) -> Outcome:
    """Runs a rule as the validate stage does: scope cell on one column at a time, wider ones on the table."""
    if entry.rule.scope == "cell":
        parts = [_say(entry, cells[field]) for field in entry.rule.fields]
        found = pd.concat([part.found for part in parts], axis=1).any(axis=1)
        return Outcome(found, {name: texts for part in parts for name, texts in part.suggested.items()})
    return _say(entry, cells)


def _say(entry: Entry, cells: Any) -> Outcome:
    before = cells.copy()
    found = entry.finds(cells)
    assert found.dtype == bool and found.index.equals(cells.index), "finds gives yes or no for each row"
    assert cells.equals(before), "a rule changes nothing"
    suggested = entry.suggests(cells[found]) if entry.suggests else {}
    for texts in suggested.values():
        assert texts.index.equals(cells.index[found]) and not texts.isna().any()
    return Outcome(found, suggested)


def tables(entry: Entry, text: str) -> list[Example]:
    return read_examples(text, entry.rule.scope)


@every_rule
def test_a_rule_finds_the_rows_that_it_promises(entry: Entry) -> None:
    for example in tables(entry, entry.rule.examples.finds):
        assert example.found.any()
        found = say(entry, example.cells[columns_read(entry)]).found
        assert found.tolist() == example.found.tolist()


@every_rule
def test_a_rule_gives_the_suggestions_that_it_promises(entry: Entry) -> None:
    promised_any = False
    for example in tables(entry, entry.rule.examples.finds):
        suggested = say(entry, example.cells[columns_read(entry)]).suggested
        fields = {*example.suggested, *suggested}
        # The state of a row is no field of it: a rule may suggest to take the whole row out.
        assert fields <= {*entry.rule.fields, "state"}, "a suggestion stands on a field of the rule"
        for field in fields:
            blank = pd.Series("", example.found.index, dtype="str")
            promised = example.suggested.get(field, blank)
            given = suggested.get(field, blank[:0]).reindex(blank.index, fill_value="")
            assert given.tolist() == promised.tolist()
            promised_any |= bool((promised != "").any())
    assert promised_any == (entry.suggests is not None), "a rule that suggests shows it in an example"


@every_rule
@pytest.mark.parametrize("kind", ["leaves", "near_misses"])
def test_a_rule_leaves_alone_what_it_promises_to_leave(entry: Entry, kind: str) -> None:
    examples = tables(entry, getattr(entry.rule.examples, kind))
    assert examples, f"a rule has examples of {kind}"
    for example in examples:
        assert not say(entry, example.cells[columns_read(entry)]).found.any()


@every_rule
def test_a_rule_says_nothing_about_a_table_without_rows(entry: Entry) -> None:
    assert say(entry, empty(entry.rule.scope)[columns_read(entry)]).found.empty


@every_rule
def test_a_rule_declares_known_columns_and_reads_each(entry: Entry) -> None:
    rule = entry.rule
    known = column_types(rule.scope)
    assert set(rule.looked_up) <= set(known) and not set(rule.looked_up) & set(KEYS)
    assert set(rule.fields) <= set(known) and set(rule.withholds) <= set(field_columns()) and rule.fields
    assert not (rule.scope == "cell" and rule.looked_up), "a cell rule sees one cell"
    for column in set(rule.looked_up) - named_in(rule.message + rule.unsuggested):
        assert reads(entry, column), f"{column} is declared and never read"


def reads(entry: Entry, column: str) -> bool:
    cells = pd.concat([example.cells for example in tables(entry, entry.rule.examples.finds)])
    try:
        say(entry, cells.drop(columns=column))
    except (KeyError, AttributeError):
        return True
    return False


@every_rule
def test_the_message_of_a_rule_can_be_filled_in(entry: Entry) -> None:
    rule = entry.rule
    allowed = PLACEHOLDERS | {*rule.fields, *rule.looked_up}
    if rule.asks == "coordinator":
        allowed.add("person_id")  # for nobody else's eyes
    for message in filter(None, (rule.message, rule.unsuggested)):
        assert named_in(message) <= allowed
        assert message.format(**dict.fromkeys(allowed, "X"))
        assert re.match(r'[A-Z"{]', message) and re.search(r"[.?!)]$", message), "whole sentences"
    assert "{suggestion}" not in rule.unsuggested
    assert (entry.suggests is not None) or not ("{suggestion}" in rule.message or rule.unsuggested)
    assert rule.unsuggested or "{suggestion}" not in rule.message, "what to say without a suggestion"


def named_in(message: str) -> set[str]:
    return {name for _, name, _, _ in Formatter().parse(message) if name}


@every_rule
def test_a_rule_is_told_in_our_own_words_with_its_reason(entry: Entry) -> None:
    rule = entry.rule
    said = " ".join((entry.name.replace("_", " "), rule.title, rule.message, rule.unsuggested, rule.why))
    words = {match.group().lower() for match in NEVER.finditer(said)}
    assert words <= ({"error"} if entry.subject == "damage" else set())
    assert rule.title and rule.why and rule.source


@every_rule
def test_the_file_of_a_rule_is_short(entry: Entry) -> None:
    lines = (RULES / entry.subject / f"{entry.name}.py").read_text(encoding="utf-8").splitlines()
    assert len(lines) < 200


def test_no_two_rules_share_a_name() -> None:
    counted = Counter(entry.name for entry in catalogue())
    assert counted and max(counted.values()) == 1


def test_the_page_of_rules_is_up_to_date() -> None:
    assert (RULES / PAGE).read_text(encoding="utf-8") == rules_page()
