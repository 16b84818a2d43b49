"""A season in figures: every row and every tag counts once, person by person and rule by rule."""

from __future__ import annotations

from typing import Any

import pandas as pd
import pytest
from hypothesis import given
from hypothesis import settings as tried
from hypothesis import strategies as st

from pipeline.stages.summarise import STATES, Summary, summarise, tag_fates
from pipeline.values.allotment import Tag
from pipeline.values.wording import conserved_rows, conserved_tags

NO_FINDINGS = pd.DataFrame({"rule": [], "severity": [], "asks": []}, dtype="str")
NO_QUESTIONS = pd.DataFrame({"rule": [], "addressee": []}, dtype="str")
LINES = ["person_id", "state", "reason", "is_new"]


def lines_of(*lines: tuple[str, str, str, bool]) -> pd.DataFrame:
    frame = pd.DataFrame(list(lines), columns=LINES)
    return frame.astype({"person_id": "str", "state": "str", "reason": "str", "is_new": "bool"})


def rows_of(*rows: tuple[str, str]) -> pd.DataFrame:
    return pd.DataFrame(list(rows), columns=["recordKind", "tagCode"], dtype="str")


def summary(
    lines: pd.DataFrame,
    rows: pd.DataFrame | None = None,
    asked: tuple[pd.DataFrame, pd.DataFrame] = (NO_FINDINGS, NO_QUESTIONS),
    fates: dict[str, str] | None = None,
    tags: dict[str, Tag] | None = None,
) -> Summary:
    return summarise(lines, rows_of() if rows is None else rows, asked, fates or {}, tags or {})


CAME = lines_of(
    ("p1", "clear", "", False), ("p1", "clear", "", True), ("p1", "held", "day_missing", True),
    ("p1", "left-out", "total", True), ("p2", "left-out", "the tag was lost", False), ("p2", "copy", "", False),
    ("p2", "left-out", "total", False), ("p2", "replaced", "", False), ("", "withdrawn", "", False),
)  # fmt: skip


def test_every_row_read_stands_in_one_state() -> None:
    found = summary(CAME)
    assert found.rows == {"clear": 2, "held": 1, "replaced": 1, "withdrawn": 1, "copy": 1, "left-out": 3}
    assert found.rows_of_run == {"clear": 1, "held": 1, "replaced": 0, "withdrawn": 0, "copy": 0, "left-out": 1}
    assert conserved_rows(found.rows) == "9 read = 2 clear + 1 held + 1 replaced + 1 withdrawn + 1 copies + 3 left out"


def test_rows_left_out_are_counted_by_their_reason() -> None:
    assert summary(CAME).left_out == {"the tag was lost": 1, "total": 2}


persons = st.sampled_from(["", "p1", "p2", "p3"])
states = st.sampled_from(STATES)
reasons = st.sampled_from(["", "total", "note", "the tag was lost"])


@tried(max_examples=60, deadline=None)
@given(st.lists(st.tuples(persons, states, reasons, st.booleans()), max_size=40))
def test_rows_read_are_the_sum_of_their_states_in_the_whole_and_for_each_person(
    lines: list[tuple[str, str, str, bool]],
) -> None:
    found = summary(lines_of(*lines))
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
NO_ROWS_ASIDE = pd.DataFrame({"tagCode": [], "reason": []}, dtype="str")


def fate(code: str, rows: pd.DataFrame | None = None, *aside: tuple[str, str]) -> str | None:
    told = pd.DataFrame(list(aside), columns=["tagCode", "reason"], dtype="str")
    return tag_fates(rows_of() if rows is None else rows, told, TAGS, "2026").get(code)


FATES = [
    ("released", "SM0001", rows_of(("release", "SM0001")), (), "released"),
    (
        "released, though a row says lost",
        "SM0001",
        rows_of(("release", "SM0001")),
        (("SM0001", "the tag was lost"),),
        "released",
    ),
    ("released, though tags.csv says lost", "SM0004", rows_of(("release", "SM0004")), (), "released"),
    ("released twice", "SM0001", rows_of(("release", "SM0001"), ("release", "SM0001")), (), "released"),
    ("only found", "SM0001", rows_of(("find", "SM0001")), (), "not heard of"),
    ("lost by a row", "SM0001", None, (("SM0001", "the tag was lost"),), "lost"),
    ("spoiled by a row", "SM0001", None, (("SM0001", "the tag was spoiled"),), "spoiled"),
    ("not used by a row", "SM0001", None, (("SM0001", "the tag was not used"),), "kept"),
    ("a row says so against tags.csv", "SM0003", None, (("SM0003", "the tag was lost"),), "lost"),
    ("only in a copy", "SM0001", None, (("SM0001", "the same in every cell as row 2"),), "not heard of"),
    ("returned", "SM0003", None, (), "returned"),
    ("lost", "SM0004", None, (), "lost"),
    ("kept", "SM0005", None, (), "kept"),
    ("spoiled", "SM0006", None, (), "spoiled"),
    ("not heard of", "SM0002", None, (), "not heard of"),
    ("of another season", "SM0900", None, (), None),
    ("never allotted", "SM0999", rows_of(("release", "SM0999")), (), None),
]


@pytest.mark.parametrize(
    ("code", "rows", "aside", "became"), [case[1:] for case in FATES], ids=[case[0] for case in FATES]
)
def test_a_tag_has_come_to_one_thing(code: str, rows: pd.DataFrame | None, aside: Any, became: str | None) -> None:
    assert fate(code, rows, *aside) == became


STATUSES = ["allotted", "kept", "returned", "lost", "spoiled"]  # what tags.csv may say
codes = st.sampled_from([*TAGS, "SM0999"])
told_fates = st.sampled_from(["the tag was lost", "the tag was spoiled", "the tag was not used", "total"])


@tried(max_examples=60, deadline=None)
@given(
    st.lists(st.tuples(st.sampled_from(["release", "find"]), codes), max_size=12),
    st.lists(st.tuples(codes, told_fates), max_size=6),
    st.dictionaries(
        codes,
        st.builds(Tag, persons, st.sampled_from(["2025", "2026"]), st.sampled_from(STATUSES)),
        max_size=8,
    ),
)
def test_tags_allotted_are_the_sum_of_what_became_of_them(
    rows: list[tuple[str, str]], aside: list[tuple[str, str]], tags: dict[str, Tag]
) -> None:
    told = pd.DataFrame(aside, columns=["tagCode", "reason"], dtype="str")
    fates = tag_fates(rows_of(*rows), told, tags, "2026")
    found = summary(lines_of(), rows_of(*rows), fates=fates, tags=tags)
    allotted = [code for code, tag in tags.items() if tag.season == "2026"]
    assert sum(found.tags.values()) == len(allotted)
    assert found.by_person["tags"].sum() == len(allotted)
    assert found.by_person["released"].sum() == found.tags["released"]
    assert found.tags["released"] == len(set(allotted) & {code for kind, code in rows if kind == "release"})


def test_the_second_law_is_told_in_words() -> None:
    fates = tag_fates(rows_of(("release", "SM0001")), NO_ROWS_ASIDE, TAGS, "2026")
    assert conserved_tags(summary(lines_of(), fates=fates, tags=TAGS).tags) == (
        "6 allotted = 1 released + 1 returned + 1 lost + 1 spoiled + 1 kept for next year + 1 not heard of"
    )


NEVER = [
    ("one code in two rows", [("release", "SM0999"), ("release", "SM0999")], TAGS, 1),
    ("a code of another season", [("release", "SM0900")], TAGS, 0),
    ("an allotted code", [("release", "SM0001")], TAGS, 0),
    ("a find", [("find", "SM0999")], TAGS, 0),
    ("no code", [("release", "")], TAGS, 0),
    ("without any list of tags", [("release", "SM0999")], {}, 0),
]


@pytest.mark.parametrize(("rows", "tags", "count"), [case[1:] for case in NEVER], ids=[case[0] for case in NEVER])
def test_released_tags_that_were_never_allotted_are_a_line_of_their_own(
    rows: list[tuple[str, str]], tags: dict[str, Tag], count: int
) -> None:
    assert summary(lines_of(), rows_of(*rows), tags=tags).never_allotted == count


def test_a_person_is_told_with_rows_tags_and_questions() -> None:
    fates = tag_fates(rows_of(("release", "SM0001")), NO_ROWS_ASIDE, TAGS, "2026")
    questions = pd.DataFrame({"rule": ["a", "b"], "addressee": ["p1", "coordinator"]})
    found = summary(CAME, asked=(NO_FINDINGS, questions), fates=fates, tags=TAGS).by_person.set_index("person_id")
    assert found.index.tolist() == ["", "p1", "p2"]
    assert found.loc["p1", ["read", "clear", "held", "left_out", "questions"]].tolist() == [4, 2, 1, 1, 1]
    assert found.loc["p1", ["tags", "released", "not_heard_of"]].tolist() == [3, 1, 1]
    assert found.loc["p2", ["read", "copy", "questions", "tags"]].tolist() == [4, 1, 0, 3]


def test_a_rule_is_told_with_its_findings_and_questions_the_most_frequent_first() -> None:
    findings = pd.DataFrame(
        {"rule": ["b", "a", "c", "c"], "severity": "please-check", "asks": "tagger"}, index=range(4)
    )
    questions = pd.DataFrame({"rule": ["c", "a"], "addressee": ["p1", "p1"]})
    found = summary(CAME, asked=(findings, questions)).by_rule
    assert found[["rule", "findings", "questions"]].to_numpy().tolist() == [["c", 2, 1], ["a", 1, 1], ["b", 1, 0]]


def test_a_season_in_which_nothing_came_has_figures_too() -> None:
    found = summary(lines_of())
    assert set(found.rows.values()) == set(found.tags.values()) == {0}
    assert found.left_out == {} and found.by_person.empty and found.by_rule.empty
