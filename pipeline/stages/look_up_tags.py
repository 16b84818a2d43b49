"""Adds what is known about the rows' tags: whose they are, and what they may have been."""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Callable, Mapping

import pandas as pd

from pipeline.frames import known_of
from pipeline.model import DAY, NUMBER
from pipeline.settings import Settings
from pipeline.values.allotment import Tag
from pipeline.values.tag_slips import before_spreadsheet, ends_so, look_alikes, one_slip_away

_LAST_DIGITS = re.compile(r".*?(\d+)\D*\Z", re.DOTALL)


def tag_facts(rows: pd.DataFrame, tags: Mapping[str, Tag], settings: Settings, is_known: bool) -> dict[str, pd.Series]:
    """Whose each code is; needs nothing but the codes, for the sender may hang on it.

    `is_known` says whether there is an allotment list at all.
    """
    codes, unique = pd.factorize(rows["tagCode"])
    found = [tags.get(code) for code in unique]
    pattern = settings.tags.pattern
    shape = re.compile(pattern)
    fits = pd.Series([bool(shape.fullmatch(code)) for code in unique], dtype="bool").take(codes).set_axis(rows.index)

    def spread(values: list[str]) -> pd.Series:
        return pd.Series(values, dtype="str").take(codes).set_axis(rows.index)

    return {
        "tag_shape_fits": fits & (rows["tagCode_doubt"] != "check-character"),
        "tag_person_id": spread([tag.person_id if tag else "" for tag in found]),
        "tag_season": spread([tag.season if tag else "" for tag in found]),
        "tag_status": spread([tag.status if tag else "" for tag in found]),
        "season": pd.Series(settings.season.label, index=rows.index, dtype="str"),
        "is_allotment_known": pd.Series(is_known, index=rows.index),
    }


def own_tag_facts(
    rows: pd.DataFrame,
    tags: Mapping[str, Tag],
    groups: Mapping[str, str],
    settings: Settings,
    others: tuple[pd.Series, str],
) -> dict[str, pd.Series]:
    """What a doubtful code may have been, among the sender's own tags that no row carries yet.

    `rows` has person_id and the facts of `tag_facts`; `groups` maps a person to their group; `others` are
    the codes of records beside the rows, and a tag that shows what ours look like, blank without an allotment list.
    """
    elsewhere, example = others
    unused = _unused(set(rows["tagCode"].unique()) | set(elsewhere), tags)
    is_release = rows["recordKind"] == "release"
    is_other = is_release & (rows["tag_person_id"] != rows["person_id"]) & (rows["tagCode"] != "")
    is_damaged = is_other & (
        rows["tagCode_kind"].isin([DAY, NUMBER]) | rows["tagCode_doubt"].isin(["became-a-day", "became-a-number"])
    )
    shape = None if tags else re.compile(settings.tags.pattern)
    group = known_of(rows["person_id"], groups)
    return {
        "is_group_tag": (group != "") & (group == known_of(rows["tag_person_id"], groups)) & is_other,
        "nearest_own_tag": _own(rows, is_other, unused, lambda code, _, own: one_slip_away(code, own)),
        "look_alike_tag": _look_alikes(rows, is_other, unused, shape),
        "damaged_tag_was": _own(rows, is_damaged, unused, lambda code, kind, own: before_spreadsheet(kind, code, own)),
        "prefixed_tag": _prefixed(rows, is_other, unused),
        "gap_tag": _gap_tags(rows, unused),
        "tag_shape": _shapes(rows["person_id"], tags, f"like {example}" if example else settings.tags.pattern),
        "tags_of_person": _tags_of_person(rows["person_id"], tags, groups, settings.season.label),
    }


def _shapes(people: pd.Series, tags: Mapping[str, Tag], example: str) -> pd.Series:
    """What our tags look like: the first of the sender's own, else what they all look like."""
    first: dict[str, str] = {}
    for code, tag in tags.items():
        first[tag.person_id] = min(code, first.get(tag.person_id, code))
    own = {person: f"like {first[person]}" if person in first else example for person in people.unique()}
    return people.map(own).astype("str")


def _tags_of_person(people: pd.Series, tags: Mapping[str, Tag], groups: Mapping[str, str], season: str) -> pd.Series:
    """How many tags of the season the sender and the others of their group were handed; missing without a list."""
    counts = Counter(groups.get(tag.person_id) or tag.person_id for tag in tags.values() if tag.season == season)
    own = {person: float(counts[groups.get(person) or person]) for person in people.unique()}
    return people.map(own if counts else {}).astype("float64")


def _unused(used: set[str], tags: Mapping[str, Tag]) -> dict[str, set[str]]:
    """Each person's allotted tags that no row carries."""
    unused: dict[str, set[str]] = defaultdict(set)
    for code, tag in tags.items():
        if code not in used and tag.status == "allotted":
            unused[tag.person_id].add(code)
    return unused


def _own(
    rows: pd.DataFrame,
    asked: pd.Series,
    unused: Mapping[str, set[str]],
    reach: Callable[[str, str, set[str]], set[str]],
) -> pd.Series:
    """For each row asked about, the only unused own tag that its code reaches."""
    doubtful = rows.loc[asked, ["person_id", "tagCode", "tagCode_kind"]]
    own: dict[tuple[str, str, str], str] = {}
    for person, code, kind in doubtful.drop_duplicates().itertuples(index=False):
        reached = reach(code, kind, unused.get(person, set()))
        own[person, code, kind] = reached.pop() if len(reached) == 1 else ""
    own_tags = [own[person, code, kind] for person, code, kind in doubtful.itertuples(index=False)]
    return pd.Series(own_tags, index=doubtful.index, dtype="str").reindex(rows.index, fill_value="")


def _prefixed(rows: pd.DataFrame, is_other: pd.Series, unused: Mapping[str, set[str]]) -> pd.Series:
    """The only unused own tag that ends in the digits of the cell, in the last ones where one tag replaced another."""
    is_short = is_other & rows["tagCode_doubt"].isin(["another-shape", "became-a-number"])
    is_replaced = is_other & (rows["tagCode_doubt"] == "re-tagged") & (rows["tagCode_candidates"] == "")
    short = _own(rows, is_short, unused, lambda code, _, own: ends_so(code, own))
    later = _own(rows, is_replaced, unused, lambda code, _, own: ends_so(_LAST_DIGITS.sub(r"\1", code), own))
    return short.where(short != "", later)


def _look_alikes(
    rows: pd.DataFrame, is_other: pd.Series, unused: Mapping[str, set[str]], shape: re.Pattern[str] | None
) -> pd.Series:
    """The only unused own tag that looks like the code; without an allotment list the only code of the `shape`."""
    if shape is None:
        return _own(rows, is_other, unused, lambda code, _, own: look_alikes(code) & own)
    fits = shape.fullmatch
    asked = is_other & ~rows["tag_shape_fits"]
    return _own(rows, asked, unused, lambda code, _, __: {one for one in look_alikes(code) if fits(one)})


def _gap_tags(rows: pd.DataFrame, unused: Mapping[str, set[str]]) -> pd.Series:
    """Where a release has no code: the only unused own tag between those of the rows before and after."""
    found = pd.Series("", index=rows.index, dtype="str")
    by_table = rows.groupby("table_id", sort=False)["tagCode"]
    before, after = by_table.shift(1).fillna(""), by_table.shift(-1).fillna("")
    gaps = (rows["tagCode"] == "") & (before != "") & (after != "") & (rows["recordKind"] == "release")
    for index in rows.index[gaps]:
        own = unused.get(str(rows.at[index, "person_id"]), set())
        between = {code for code in own if before[index] < code < after[index] and len(code) == len(before[index])}
        found[index] = between.pop() if len(between) == 1 else ""
    return found
