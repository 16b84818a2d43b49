"""The ledger in figures: what came, what is clear, what is asked; both conservation laws."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import pandas as pd

from pipeline.frames import is_among
from pipeline.values.allotment import Tag

STATES = ("clear", "held", "replaced", "withdrawn", "copy", "left-out")
FATES = {"the tag was lost": "lost", "the tag was spoiled": "spoiled", "the tag was not used": "kept"}
TAG_STATES = ("released", "returned", "lost", "spoiled", "kept", "not heard of")


@dataclass(frozen=True)
class Summary:
    """The figures of a run, and the same person by person and rule by rule.

    `by_person`: person_id, read, clear, held, copy, left_out, questions, tags, released, not_heard_of;
    `by_rule`: rule, severity, asks, findings, questions.
    """

    rows: dict[str, int]
    rows_of_run: dict[str, int]
    left_out: dict[str, int]
    tags: dict[str, int]
    never_allotted: int
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
    released = rows[(rows["recordKind"] == "release") & (rows["tagCode"] != "")]
    return Summary(
        rows=_counts(lines["state"], STATES),
        rows_of_run=_counts(lines.loc[lines["is_new"], "state"], STATES),
        left_out=dict(sorted(Counter(lines.loc[lines["state"] == "left-out", "reason"]).items())),
        tags=_counts(pd.Series(list(fates.values()), dtype="str"), TAG_STATES),
        never_allotted=int(released.loc[~is_among(released["tagCode"], list(tags)), "tagCode"].nunique())
        if tags
        else 0,
        by_person=_by_person(lines, questions, fates, tags),
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
    lines: pd.DataFrame, questions: pd.DataFrame, fates: Mapping[str, str], tags: Mapping[str, Tag]
) -> pd.DataFrame:
    states = pd.crosstab(lines["person_id"], lines["state"]).reindex(columns=list(STATES), fill_value=0)
    fate = pd.DataFrame(
        {"person_id": [tags[code].person_id for code in fates], "fate": list(fates.values())}, dtype="str"
    )
    of_tags = pd.crosstab(fate["person_id"], fate["fate"]).reindex(columns=list(TAG_STATES), fill_value=0)
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
