"""Rows that come again: copies are put aside, an edited row takes the older one's place and its key."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

import pandas as pd

from pipeline.frames import known_of, rows_where
from pipeline.stages.come_again.facts import version_facts
from pipeline.stages.come_again.pairs import COPY, Row, Sent, pair, plain

ASPECTS = ("", "_written", "_kind", "_doubt", "_candidates")
ADDRESS = ["file", "file_sha256", "sheet", "row", "part", "key", "person_id", "tagCode"]
NOT_COMPARED = frozenset({"tagCode", "recordKind"})
Links = Mapping[str, tuple[str, str]]


class Known(NamedTuple):
    """What the ledger remembers: links by place (key, how), files matched by (SHA-256, person) with the older file.

    `order` is that in which the files came, `before` by SHA-256 that of the bytes which stood at the same path.
    """

    links: Links
    matched: Mapping[tuple[str, str], str]
    order: Mapping[str, int]
    before: Mapping[str, str]


class CameAgain(NamedTuple):
    """`rows`: the current rows with the key that was handed on; `aside`: copies and replaced rows; what is new to know.

    `rows` has beside their columns `missing_from`, `sorted_alone`, `value_before`.
    """

    rows: pd.DataFrame
    aside: pd.DataFrame
    links: dict[str, tuple[str, str]]
    matched: dict[tuple[str, str], str]


def come_again(rows: pd.DataFrame, places: pd.DataFrame, known: Known) -> CameAgain:
    """Tells the rows that came before from the new ones, person by person and file by file in order of arrival.

    `rows` are all rows of all files with `key`, the key of the place where each stands; `places` says which fields
    each table has a column for. What was matched once stays as it was matched.
    """
    senders = rows.loc[rows["person_id"] != "", ["file_sha256", "person_id"]].drop_duplicates()
    new = {pair for pair in senders.itertuples(index=False, name=None) if pair not in known.matched}
    fields = {int(str(table)): frozenset(named) for table, named in places.groupby("table_id")["field"]}
    links, older = _matched(rows, fields, known, new)
    matched = {pair: older.get(pair, "") for pair in new}
    every = {**known.links, **links}
    blank = pd.Series("", index=rows.index, dtype="str")
    if not every and not any({**known.matched, **matched}.values()):
        return CameAgain(rows.assign(missing_from=blank, sorted_alone=blank, value_before=blank),
                         rows.loc[rows.index[:0], ADDRESS].assign(state="", reason=""), links, matched)  # fmt: skip
    # Who is who is decided on a narrow table: the rows themselves are wide.
    link = pd.DataFrame(list(every.values()), index=pd.Index(every.keys()), columns=["key", "how"], dtype="str")
    found = _of_the_same_person(link.reindex(rows["key"]).set_axis(rows.index), rows)
    rows = rows.assign(key=found["key"].where(found["key"].notna(), rows["key"]).astype("str"))
    who = rows[[*ADDRESS, "table_id"]].assign(
        how=found["how"].fillna("").astype("str"), order=rows["file_sha256"].map(known.order).astype("int64")
    )
    who = who.sort_values(["order", "row"], kind="stable")
    own = who[who["how"] != COPY]
    rows = _with_what_newer_tables_lack(rows, own, fields)
    last = own.index[~own.duplicated("key", keep="last")]
    is_current = pd.Series(rows.index.isin(last), index=rows.index)
    facts = version_facts(rows, who, fields, {**known.matched, **matched}, known.before)
    current = rows_where(rows.assign(**facts), is_current)
    return CameAgain(current, _aside(who, own, is_current[who.index]), links, matched)


def _of_the_same_person(found: pd.DataFrame, rows: pd.DataFrame) -> pd.DataFrame:
    """The links without those of a file that turned out to be another person's: it lets go of the first one's rows."""
    whose = rows.drop_duplicates("key").set_index("key")["person_id"]
    others = found["key"].notna() & (found["key"].map(whose) != rows["person_id"])
    return found.mask(others) if others.any() else found


def _matched(
    rows: pd.DataFrame, fields: Mapping[int, frozenset[str]], known: Known, new: set[tuple[str, str]]
) -> tuple[dict[str, tuple[str, str]], dict[tuple[str, str], str]]:
    """The links of the files not matched so far, and of which file each is a newer version."""
    links: dict[str, tuple[str, str]] = {}
    older: dict[tuple[str, str], str] = {}
    people = _who_may_have_sent_again(rows, known, {person for _, person in new})
    for person, sent in rows[rows["person_id"].isin(people)].groupby("person_id"):
        so_far = Sent({}, {})
        files = sorted(sent["file_sha256"].unique(), key=lambda sha256: known.order[sha256])
        compared = _rows_by_file(sent, fields)
        for sha256 in files:
            mine = compared[sha256]
            found: Links = {row.place: known.links[row.place] for row in mine if row.place in known.links}
            if (sha256, person) in new and so_far.keys:
                found, older[sha256, str(person)] = pair(mine, so_far, known.before.get(sha256, ""))
                links.update(found)
            _take_down(so_far, sha256, mine, found)
    return links, older


def _take_down(so_far: Sent, sha256: str, mine: list[Row], found: Links) -> None:
    so_far.keys[sha256] = [found.get(row.place, (row.place, ""))[0] for row in mine]
    for row in mine:
        key, how = found.get(row.place, (row.place, ""))
        if how != COPY:
            so_far.current[key] = row


def _who_may_have_sent_again(rows: pd.DataFrame, known: Known, people: set[str]) -> set[str]:
    """Of these people those with several files that share a tag, lack one, or took one another's place."""
    told = rows.loc[rows["person_id"].isin(people), ["person_id", "file_sha256", "tagCode"]].drop_duplicates()
    again = told[told.duplicated(["person_id", "tagCode"], keep=False)]
    took_a_place = told[told["file_sha256"].isin(list(known.before))]
    return set(again["person_id"]) | set(took_a_place["person_id"])


def _rows_by_file(sent: pd.DataFrame, fields: Mapping[int, frozenset[str]]) -> dict[str, list[Row]]:
    """The rows as they are compared, by file, in the order in which they stand there."""
    names = sorted({name for table in sent["table_id"].unique() for name in fields.get(table, ())} - NOT_COMPARED)
    names = [name for name in names if name in sent]
    sent = sent.sort_values(["table_id", "row"], kind="stable")
    values = [sent[name].tolist() for name in names]
    others = [sent[f"{name}_candidates"].tolist() for name in names]
    by_file: dict[str, list[Row]] = {}
    heads = sent[["key", "recordKind", "tagCode", "file_sha256", "table_id"]].itertuples(index=False, name=None)
    for at, (place, kind, tag, sha256, table) in enumerate(heads):
        said = {name: plain(column[at]) for name, column in zip(names, values, strict=True) if column[at]}
        may = {name: tuple(column[at].split(" | ")) for name, column in zip(names, others, strict=True) if column[at]}
        row = Row(place, kind, tag, said, may, fields.get(table, frozenset()) - NOT_COMPARED)
        by_file.setdefault(sha256, []).append(row)
    return by_file


def _with_what_newer_tables_lack(
    rows: pd.DataFrame, own: pd.DataFrame, fields: Mapping[int, frozenset[str]]
) -> pd.DataFrame:
    """A newer version whose table has no column for a field keeps what the older one said in it."""
    version = own.groupby("key", sort=False).cumcount()
    before = pd.Series(own.index, index=own.index).groupby(own["key"], sort=False).shift(1)
    has = {table: fields.get(table, frozenset()) for table in own["table_id"].unique()}
    every = frozenset[str]().union(*has.values())
    for number in range(1, int(version.max()) + 1 if len(version) else 1):
        newer = own.index[version == number]
        olds = before[newer].astype("int64")
        tables = rows.loc[newer, "table_id"]
        lacking = {field for table in tables.unique() for field in every - has[table]}
        for field in sorted(lacking & set(rows.columns)):
            lacks = ~tables.map(lambda table, name=field: name in has[table]).astype("bool")
            kept = newer[lacks & (rows.loc[olds, field].set_axis(newer) != "")]
            for aspect in ASPECTS if len(kept) else ():
                rows.loc[kept, field + aspect] = rows.loc[olds[kept], field + aspect].set_axis(kept)
    return rows


def _aside(who: pd.DataFrame, own: pd.DataFrame, is_current: pd.Series) -> pd.DataFrame:
    """Copies with the row that they repeat, replaced rows with the one that counts; `who` in order of arrival."""
    where = "row " + who["row"].astype("str") + " of " + who["file"]
    repeated = where.where(who["how"] != COPY).groupby(who["key"], sort=False).ffill()
    last = where[own.index[~own.duplicated("key", keep="last")]]
    counts = known_of(who["key"], last.set_axis(who.loc[last.index, "key"]))
    is_copy = who["how"] == COPY
    reason = ("the same came before as " + repeated.fillna("")).where(is_copy, "a newer version came as " + counts)
    state = is_copy.map({True: COPY, False: "replaced"}).astype("str")
    return who[ADDRESS].assign(state=state, reason=reason)[~is_current]
