"""The ledger in figures: what came, what is clear, what is asked; both conservation laws."""

from __future__ import annotations

from collections import Counter
from collections.abc import Container, Iterable, Mapping
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
    `by_rule`: rule, severity, asks, findings, questions. `unheard`: the season's
    tags of which nothing was heard, each with its person.
    """

    rows: dict[str, int]
    rows_of_run: dict[str, int]
    left_out: dict[str, int]
    tags: dict[str, int]
    never_allotted: int
    unheard: tuple[tuple[str, str], ...]
    by_person: pd.DataFrame
    by_rule: pd.DataFrame


def summarise(counted: Counted, tags: Mapping[str, Tag], season: str) -> Summary:
    """The figures of a run from the counts of the ledger and the tags that were ever allotted."""
    fates = tag_fates(counted.released, counted.told, tags, season)
    fate_of_person = Counter((tags[code].person_id, fate) for code, fate in fates.items())
    by_state = counted.states.groupby("state")["rows"].sum()
    return Summary(
        rows=_counts(by_state, STATES),
        rows_of_run=_counts(counted.of_run, STATES),
        left_out=counted.left_out,
        tags=dict.fromkeys(TAG_STATES, 0) | Counter(fates.values()),
        never_allotted=sum(1 for code in counted.released if code not in tags) if tags else 0,
        unheard=tuple((code, tags[code].person_id) for code, fate in fates.items() if fate == "not heard of"),
        by_person=_by_person(counted.states, counted.questions, fate_of_person),
        by_rule=_by_rule(counted.findings, counted.questions),
    )


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


def _by_person(
    lines: pd.DataFrame, questions: pd.DataFrame, fate_of_person: Mapping[tuple[str, str], int]
) -> pd.DataFrame:
    states = lines.pivot(index="person_id", columns="state", values="rows")
    states = states.reindex(columns=list(STATES)).fillna(0).astype("int64")
    counted = [(*named, count) for named, count in fate_of_person.items()]
    of_tags = pd.DataFrame(counted, columns=["person_id", "fate", "tags"]).astype({"person_id": "str", "fate": "str"})
    of_tags = of_tags.pivot(index="person_id", columns="fate", values="tags").reindex(columns=list(TAG_STATES))
    of_tags = of_tags.fillna(0).astype("int64")
    asked = questions["addressee"].value_counts()
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
