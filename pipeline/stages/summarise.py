"""The ledger in figures: what came, what is clear, what is asked; both conservation laws."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Container, Iterable, Mapping, Sequence
from dataclasses import dataclass

import pandas as pd

from pipeline.frames import Counted
from pipeline.values.allotment import Tag

STATES = ("clear", "held", "replaced", "withdrawn", "copy", "left-out")
FATES = {"lost": "lost", "spoiled": "spoiled", "not used": "kept", "kept": "kept", "returned": "returned"}
TAG_STATES = ("released", "returned", "lost", "spoiled", "kept", "not heard of")


@dataclass(frozen=True)
class Summary:
    """The figures of a run, and the same person by person and rule by rule.

    `by_person`: person_id, read, clear, held, copy, left_out, questions, tags, released, not_heard_of;
    `by_rule`: rule, severity, asks, findings, questions. `unheard` by
    person: the season's tags of which nothing was heard.
    """

    rows: dict[str, int]
    rows_of_run: dict[str, int]
    left_out: dict[str, int]
    tags: dict[str, int]
    never_allotted: int
    unheard: Mapping[str, Sequence[str]]
    by_person: pd.DataFrame
    by_rule: pd.DataFrame


def summarise(counted: Counted) -> Summary:
    """The figures of a run from the counts of the ledger."""
    by_state = counted.states.groupby("state")["rows"].sum()
    tags = sum((Counter(counts) for counts, _ in counted.tags.values()), Counter[str]())
    return Summary(
        rows=_counts(by_state, STATES),
        rows_of_run=_counts(counted.of_run, STATES),
        left_out=counted.left_out,
        tags=dict.fromkeys(TAG_STATES, 0) | tags,
        never_allotted=counted.never_allotted,
        unheard={person: unheard for person, (_, unheard) in counted.tags.items() if unheard},
        by_person=_by_person(counted),
        by_rule=_by_rule(counted.findings, counted.questions),
    )


def tags_by_person(
    tags: Mapping[str, Tag], fates: Mapping[str, str], people: Collection[str] | None
) -> list[tuple[str, dict[str, int], list[str]]]:
    """By person, of everybody or of some: what became of their tags in counts, and those not heard of.

    `fates` by tag of the season.
    """
    counts: dict[str, Counter[str]] = {person: Counter() for person in people or ()}
    unheard: dict[str, list[str]] = {}
    for code, fate in fates.items():
        person = tags[code].person_id
        if people is None or person in people:
            counts.setdefault(person, Counter())[fate] += 1
            if fate == "not heard of":
                unheard.setdefault(person, []).append(code)
    return [(person, dict(counted), unheard.get(person, [])) for person, counted in sorted(counts.items())]


def tag_fates(
    released: Container[str], told: Mapping[str, str], tags: Mapping[str, Tag], season: str
) -> dict[str, str]:
    """What became of each tag of the season: released, else what a row, answer or tags.csv says, else not heard of."""
    return {
        code: "released" if code in released else FATES.get(told.get(code, "")) or _status(tag.status)
        for code, tag in tags.items()
        if tag.season == season
    }


def _status(status: str) -> str:
    return status if status in TAG_STATES else "not heard of"


def _counts(counts: Mapping[str, int] | pd.Series, names: Iterable[str]) -> dict[str, int]:
    return {name: int(counts.get(name, 0)) for name in names}


def _by_person(counted: Counted) -> pd.DataFrame:
    states = counted.states.pivot(index="person_id", columns="state", values="rows")
    states = states.reindex(columns=list(STATES)).fillna(0).astype("int64")
    of_tags = pd.DataFrame({person: counts for person, (counts, _) in counted.tags.items() if counts}).T
    of_tags = of_tags.reindex(columns=list(TAG_STATES)).fillna(0).astype("int64")
    asked = counted.questions["addressee"].value_counts()
    people = sorted(set(states.index) | set(of_tags.index))
    by_person = states.reindex(people, fill_value=0).rename(columns={"left-out": "left_out"})
    by_person.insert(0, "read", by_person.sum(axis=1))
    by_person["questions"] = asked.reindex(people).fillna(0).astype("int64")
    tags_of = of_tags.reindex(people, fill_value=0)
    by_person["tags"] = tags_of.sum(axis=1)
    by_person["released"], by_person["not_heard_of"] = tags_of["released"], tags_of["not heard of"]
    return by_person.rename_axis("person_id").reset_index()


def _by_rule(counts: pd.DataFrame, questions: pd.DataFrame) -> pd.DataFrame:
    counts = counts.copy()
    asked = questions["rule"].value_counts()
    counts["questions"] = counts["rule"].map(asked).fillna(0).astype("int64")
    return counts.sort_values(["findings", "rule"], ascending=[False, True])
