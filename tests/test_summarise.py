"""A season in figures: every row and every tag counts once, person by person and rule by rule."""

from __future__ import annotations

from collections import Counter

import pandas as pd
import pytest
from hypothesis import given
from hypothesis import settings as tried
from hypothesis import strategies as st

from pipeline.frames import Counted
from pipeline.stages.summarise import STATES, Summary, summarise, tag_fates, tags_by_person
from pipeline.values.allotment import Tag
from pipeline.values.wording import conserved_rows, conserved_tags

Line = tuple[str, str, str, bool]  # person, state, reason, whether its file came in this run
Ledger = tuple[Counted, frozenset[str], dict[str, str]]
FINDINGS, QUESTIONS = ["rule", "severity", "asks", "findings"], ["ref", "addressee", "rule", "severity"]


def counted(
    lines: tuple[Line, ...] = (),
    released: tuple[str, ...] = (),
    told: dict[str, str] | None = None,
    found: tuple[tuple[str, int], ...] = (),
    asked: tuple[tuple[str, str], ...] = (),
) -> Ledger:
    """The counts of a ledger with these rows, its released tags and what was said of others.

    `found` are (rule, findings), `asked` (rule, addressee).
    """
    states = Counter((person, state) for person, state, *_ in lines)
    left_out = Counter(reason for _, state, reason, _ in lines if state == "left-out")
    counts = Counted(
        states=pd.DataFrame([(*each, n) for each, n in states.items()], columns=["person_id", "state", "rows"]).astype(
            {"person_id": "str", "state": "str", "rows": "int64"}
        ),
        of_run=Counter(state for _, state, _, is_new in lines if is_new),
        left_out=dict(sorted(left_out.items())),
        never_allotted=0,
        tags={},
        findings=pd.DataFrame([(rule, "please-check", "tagger", n) for rule, n in found], columns=FINDINGS).astype(
            {"rule": "str", "findings": "int64"}
        ),
        questions=pd.DataFrame(
            [(f"R{at}", who, rule, "please-check") for at, (rule, who) in enumerate(asked)], columns=QUESTIONS
        ).astype("str"),
    )
    return counts, frozenset(released), told or {}


def summary(ledger: Ledger, tags: dict[str, Tag] | None = None) -> Summary:
    counts, released, told = ledger
    fates = tag_fates(released, told, tags or {}, "2026")
    lines = tags_by_person(tags or {}, fates, None)
    return summarise(counts._replace(tags={person: (became, unheard) for person, became, unheard in lines}))


CAME: tuple[Line, ...] = (
    ("p1", "clear", "", False), ("p1", "clear", "", True), ("p1", "held", "day_missing", True),
    ("p1", "left-out", "total", True), ("p2", "left-out", "the tag was lost", False), ("p2", "copy", "", False),
    ("p2", "left-out", "total", False), ("p2", "replaced", "", False), ("", "withdrawn", "", False),
)  # fmt: skip


def test_every_row_read_stands_in_one_state() -> None:
    found = summary(counted(CAME))
    assert found.rows == {"clear": 2, "held": 1, "replaced": 1, "withdrawn": 1, "copy": 1, "left-out": 3}
    assert found.rows_of_run == {"clear": 1, "held": 1, "replaced": 0, "withdrawn": 0, "copy": 0, "left-out": 1}
    assert conserved_rows(found.rows) == "9 read = 2 clear + 1 held + 1 replaced + 1 withdrawn + 1 copies + 3 left out"


def test_rows_left_out_are_counted_by_their_reason() -> None:
    assert summary(counted(CAME)).left_out == {"the tag was lost": 1, "total": 2}


persons = st.sampled_from(["", "p1", "p2", "p3"])
states = st.sampled_from(STATES)
reasons = st.sampled_from(["", "total", "note", "the tag was lost"])


@tried(max_examples=60, deadline=None)
@given(st.lists(st.tuples(persons, states, reasons, st.booleans()), max_size=40))
def test_rows_read_are_the_sum_of_their_states_in_the_whole_and_for_each_person(
    lines: list[Line],
) -> None:
    found = summary(counted(tuple(lines)))
    assert sum(found.rows.values()) == len(lines)
    assert sum(found.rows_of_run.values()) == sum(is_new for *_, is_new in lines)
    assert sum(found.left_out.values()) == found.rows["left-out"]
    assert found.by_person["read"].sum() == len(lines)
    shown = found.by_person[["clear", "held", "replaced", "withdrawn", "copy", "left_out"]].sum(axis=1)
    assert shown.tolist() == found.by_person["read"].tolist()


TAGS = {
    "SM0001": Tag("p1", "2026", "allotted"), "SM0002": Tag("p1", "2026", "allotted"),
    "SM0003": Tag("p1", "2026", "returned"), "SM0004": Tag("p2", "2026", "lost"),
    "SM0005": Tag("p2", "2026", "kept"), "SM0006": Tag("p2", "2026", "spoiled"),
    "SM0900": Tag("p1", "2025", "allotted"),
}  # fmt: skip


FATES = [
    ("released", "SM0001", ("SM0001",), "", "released"),
    ("released, though a row says lost", "SM0001", ("SM0001",), "lost", "released"),
    ("released, though tags.csv says lost", "SM0004", ("SM0004",), "", "released"),
    ("another tag released", "SM0001", ("SM0002",), "", "not heard of"),
    ("lost by a row", "SM0001", (), "lost", "lost"),
    ("spoiled by a row", "SM0001", (), "spoiled", "spoiled"),
    ("not used by a row", "SM0001", (), "not used", "kept"),
    ("kept by an answer", "SM0001", (), "kept", "kept"),
    ("returned by an answer", "SM0001", (), "returned", "returned"),
    ("a row says so against tags.csv", "SM0003", (), "lost", "lost"),
    ("a word that tells of no fate", "SM0001", (), "released", "not heard of"),
    ("returned", "SM0003", (), "", "returned"),
    ("lost", "SM0004", (), "", "lost"),
    ("kept", "SM0005", (), "", "kept"),
    ("spoiled", "SM0006", (), "", "spoiled"),
    ("not heard of", "SM0002", (), "", "not heard of"),
    ("of another season", "SM0900", (), "", None),
    ("never allotted", "SM0999", ("SM0999",), "", None),
]


@pytest.mark.parametrize(
    ("code", "released", "told", "became"), [case[1:] for case in FATES], ids=[case[0] for case in FATES]
)
def test_a_tag_has_come_to_one_thing(code: str, released: tuple[str, ...], told: str, became: str | None) -> None:
    assert tag_fates(released, {code: told} if told else {}, TAGS, "2026").get(code) == became


STATUSES = ["allotted", "kept", "returned", "lost", "spoiled"]  # what tags.csv may say
codes = st.sampled_from([*TAGS, "SM0999"])
told_fates = st.sampled_from(["lost", "spoiled", "not used", "kept", "returned", "found"])


@tried(max_examples=60, deadline=None)
@given(
    st.lists(codes, max_size=12),
    st.dictionaries(codes, told_fates, max_size=6),
    st.dictionaries(
        codes,
        st.builds(Tag, persons, st.sampled_from(["2025", "2026"]), st.sampled_from(STATUSES)),
        max_size=8,
    ),
)
def test_tags_allotted_are_the_sum_of_what_became_of_them(
    released: list[str], told: dict[str, str], tags: dict[str, Tag]
) -> None:
    found = summary(counted(released=tuple(released), told=told), tags)
    allotted = [code for code, tag in tags.items() if tag.season == "2026"]
    assert sum(found.tags.values()) == len(allotted)
    assert found.by_person["tags"].sum() == len(allotted)
    assert found.by_person["released"].sum() == found.tags["released"]
    assert found.by_person["not_heard_of"].sum() == found.tags["not heard of"]
    assert found.tags["not heard of"] == sum(map(len, found.unheard.values()))
    assert found.tags["released"] == len(set(allotted) & set(released))


def test_the_second_law_is_told_in_words() -> None:
    assert conserved_tags(summary(counted(released=("SM0001",)), TAGS).tags) == (
        "6 allotted = 1 released + 1 returned + 1 lost + 1 spoiled + 1 kept for next year + 1 not heard of"
    )


def test_tags_of_which_nothing_was_heard_are_named_each_with_its_person() -> None:
    tags = {**TAGS, "SM0007": Tag("p2", "2026", "allotted"), "SM0901": Tag("p2", "2025", "allotted")}
    assert summary(counted(released=("SM0001",)), tags).unheard == {"p1": ["SM0002"], "p2": ["SM0007"]}


def test_the_tags_of_some_people_are_counted_apart() -> None:
    fates = tag_fates({"SM0001"}, {}, TAGS, "2026")
    every = {person: (became, unheard) for person, became, unheard in tags_by_person(TAGS, fates, None)}
    some = tags_by_person(TAGS, fates, {"p1", "p9"})
    assert some == [("p1", *every["p1"]), ("p9", {}, [])], "somebody without tags has none, and that is kept too"


def test_a_person_is_told_with_rows_tags_and_questions() -> None:
    ledger = counted(CAME, released=("SM0001",), asked=(("a", "p1"), ("b", "coordinator")))
    found = summary(ledger, TAGS).by_person.set_index("person_id")
    assert found.index.tolist() == ["", "p1", "p2"]
    assert found.loc["p1", ["read", "clear", "held", "left_out", "questions"]].tolist() == [4, 2, 1, 1, 1]
    assert found.loc["p1", ["tags", "released", "not_heard_of"]].tolist() == [3, 1, 1]
    assert found.loc["p2", ["read", "copy", "questions", "tags"]].tolist() == [4, 1, 0, 3]


def test_a_rule_is_told_with_its_findings_and_questions_the_most_frequent_first() -> None:
    ledger = counted(CAME, found=(("b", 1), ("a", 1), ("c", 2)), asked=(("c", "p1"), ("a", "p1")))
    found = summary(ledger).by_rule
    assert found[["rule", "findings", "questions"]].to_numpy().tolist() == [["c", 2, 1], ["a", 1, 1], ["b", 1, 0]]


def test_a_season_in_which_nothing_came_has_figures_too() -> None:
    found = summary(counted())
    assert set(found.rows.values()) == set(found.tags.values()) == {0}
    assert found.left_out == {} and found.by_person.empty and found.by_rule.empty
