"""The ledger in figures: what came, what is clear, what is asked; both conservation laws."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import pandas as pd

from pipeline.values.allotment import Tag

STATES = ("clear", "held", "replaced", "withdrawn", "copy", "left-out")
FATES = {"the tag was lost": "lost", "the tag was spoiled": "spoiled", "the tag was not used": "kept"}
TAG_STATES = ("released", "returned", "lost", "spoiled", "kept", "not heard of")


@dataclass(frozen=True)
class Summary:
    """The figures of a run, and the same person by person and rule by rule.

    `by_person`: person_id, read, clear, held, copy, left_out, questions, tags, released, not_heard_of;
    `by_rule`: rule, severity, asks, findings, questions. `unheard`: the season's tags of which nothing was heard.
    """

    rows: dict[str, int]
    rows_of_run: dict[str, int]
    left_out: dict[str, int]
    tags: dict[str, int]
    never_allotted: int
    unheard: tuple[str, ...]
    by_person: pd.DataFrame
    by_rule: pd.DataFrame


def summarise(
    lines: pd.DataFrame,
    rows: pd.DataFrame,
    asked: tuple[pd.DataFrame, pd.DataFrame],
    fates: Mapping[str, str],
    tags: Mapping[str, Tag],
) -> Summary:
    """The figures of a run; `lines` is the ledger's line per sheet row with `is_new`, `rows` the current rows,
    `asked` the findings and the questions, `fates` what became of each tag of the season."""
    findings, questions = asked
    fate_of_person = Counter((tags[code].person_id, fate) for code, fate in fates.items())
    released = rows.loc[rows["recordKind"] == "release", "tagCode"]
    return Summary(
        rows=_counts(lines["state"], STATES),
        rows_of_run=_counts(lines.loc[lines["is_new"], "state"], STATES),
        left_out=dict(sorted(Counter(lines.loc[lines["state"] == "left-out", "reason"]).items())),
        tags=dict.fromkeys(TAG_STATES, 0) | Counter(fates.values()),
        never_allotted=len(set(released) - {""} - tags.keys()) if tags else 0,
        unheard=tuple(code for code, fate in fates.items() if fate == "not heard of"),
        by_person=_by_person(lines, questions, fate_of_person),
        by_rule=_by_rule(findings, questions),
    )


def tag_fates(rows: pd.DataFrame, aside: pd.DataFrame, tags: Mapping[str, Tag], season: str) -> dict[str, str]:
    """What became of each tag of the season: released, else what a row or tags.csv says, else not heard of."""
    released = set(rows.loc[rows["recordKind"] == "release", "tagCode"])
    told = aside.loc[aside["reason"].isin(list(FATES)), ["tagCode", "reason"]]
    said = {code: FATES[reason] for code, reason in told.itertuples(index=False)}
    return {
        code: "released" if code in released else said.get(code) or _status(tag.status)
        for code, tag in tags.items()
        if tag.season == season
    }


def _status(status: str) -> str:
    return status if status in TAG_STATES else "not heard of"


def _counts(values: pd.Series, names: Iterable[str]) -> dict[str, int]:
    counts = values.value_counts()
    return {name: int(counts.get(name, 0)) for name in names}


def _by_person(
    lines: pd.DataFrame, questions: pd.DataFrame, fate_of_person: Mapping[tuple[str, str], int]
) -> pd.DataFrame:
    states = lines.groupby(["person_id", "state"]).size().unstack(fill_value=0)
    states = states.reindex(columns=list(STATES), fill_value=0)
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


def _by_rule(findings: pd.DataFrame, questions: pd.DataFrame) -> pd.DataFrame:
    counts = findings.groupby(["rule", "severity", "asks"]).size().rename("findings").reset_index()
    asked = questions["rule"].value_counts()
    counts["questions"] = counts["rule"].map(asked).fillna(0).astype("int64")
    return counts.sort_values(["findings", "rule"], ascending=[False, True])
