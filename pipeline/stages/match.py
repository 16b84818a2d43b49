"""Rows to current rows: which are copies or say that a tag was not released, and the key that each keeps."""

from __future__ import annotations

import hashlib
import uuid
from collections.abc import Iterable, Mapping
from typing import NamedTuple

import pandas as pd

from pipeline.frames import known_of, rows_where
from pipeline.model import Table
from pipeline.values.choice import Words
from pipeline.values.text import tidy

NAMESPACE = uuid.uuid5(uuid.NAMESPACE_URL, "urn:tagsheaf:occurrence")
ASIDE_COLUMNS = [
    "file",
    "file_sha256",
    "sheet",
    "row",
    "part",
    "key",
    "person_id",
    "tagCode",
    "state",
    "reason",
]
FATES = {"lost": "the tag was lost", "spoiled": "the tag was spoiled", "not used": "the tag was not used"}
SAYS_FIND = frozenset({"eventDate", "recordedBy", "locality", "municipality", "tagCode"})


class Matched(NamedTuple):
    """`rows`: the rows that stay, with key and part; `aside`: the others, with ASIDE_COLUMNS."""

    rows: pd.DataFrame
    aside: pd.DataFrame


def match(rows: pd.DataFrame, programme_id: str) -> Matched:
    """Gives every row the key of its place, and puts aside rows written twice in a sheet."""
    rows = rows if "part" in rows else rows.assign(part="")
    rows.insert(0, "key", pd.Series(keys(rows, programme_id), index=rows.index, dtype="str"))
    first = _same_as(rows).reindex(rows.index).fillna(0).astype("int64")
    is_copy = first > 0
    aside = rows.loc[is_copy, ASIDE_COLUMNS[:8]].copy()
    aside["state"] = "copy"
    aside["reason"] = first[aside.index].astype("str").radd("the same in every cell as row ")
    return Matched(rows_where(rows, ~is_copy), aside)


def set_aside(rows: pd.DataFrame, withdrawn: Mapping[str, str]) -> Matched:
    """Puts aside the rows that were withdrawn (`withdrawn` by key: why) and tags that were not released."""
    is_fate, is_withdrawn = rows["tagFate"].isin(list(FATES)), rows["key"].isin(list(withdrawn))
    aside = rows.loc[is_fate | is_withdrawn, ASIDE_COLUMNS[:8]].copy()
    why = known_of(aside["key"], withdrawn)
    is_why = is_withdrawn[aside.index]
    aside["state"] = is_why.map({True: "withdrawn", False: "left-out"}).astype("str")
    aside["reason"] = why.where(is_why, rows.loc[aside.index, "tagFate"].map(FATES)).astype("str")
    return Matched(rows_where(rows, ~(is_fate | is_withdrawn)), aside)


def keys(rows: pd.DataFrame, programme_id: str) -> list[str]:
    """A name-based UUID (version 5) over programme, file's bytes, sheet, row and part: the same place, the same key."""
    places = rows[["file_sha256", "sheet"]].drop_duplicates()
    begun = {
        (sha256, sheet): hashlib.sha1(NAMESPACE.bytes + "\x1f".join([programme_id, sha256, sheet, ""]).encode())
        for sha256, sheet in places.itertuples(index=False)
    }
    columns = (rows[name].tolist() for name in ("file_sha256", "sheet", "row", "part"))
    return [_key(begun[sha256, sheet], f"{row}\x1f{part}") for sha256, sheet, row, part in zip(*columns, strict=True)]


def _key(begun: hashlib._Hash, rest: str) -> str:
    """What `uuid.uuid5` makes of the whole name, without beginning it anew for every row of a sheet."""
    digest = begun.copy()
    digest.update(rest.encode())
    text = digest.hexdigest()
    variant = "89ab"[int(text[16], 16) & 3]
    return f"{text[:8]}-{text[8:12]}-5{text[13:16]}-{variant}{text[17:20]}-{text[20:32]}"


def _same_as(rows: pd.DataFrame) -> pd.Series:
    """The row of the same table that says the same in every cell, else 0; rows without a tag are all kept."""
    written = [name for name in rows.columns if name.endswith("_written")]
    used = [name for name in written if (rows[name] != "").any()]
    tagged = rows[rows["tagCode"] != ""]
    by = ["table_id", *used]
    repeated = tagged[tagged.duplicated(["table_id", "tagCode"], keep=False)]
    firsts = repeated.groupby(by, sort=False)["row"].transform("first")
    return firsts[firsts != repeated["row"]]


def says_find(table: Table, words: Words) -> bool:
    """Whether the name of the file or sheet, or a heading, says that the table lists finds."""
    names = [table.sheet.file.rsplit("/", 1)[-1].rsplit(".", 1)[0], table.sheet.name]
    names += [heading.written for heading in table.headings if heading.field in SAYS_FIND]
    said = {value for name in names for value in _said(name, words)}
    return said == {"find"}


def _said(name: str, words: Words) -> Iterable[str]:
    tokens = tidy(name).split()
    return (words.spellings[token] for token in tokens if token in words.spellings and len(token) > 2)


def set_aside_by_reading(tables: Mapping[int, Table]) -> pd.DataFrame:
    """The rows that are no records (totals, notes, repeated headings), with ASIDE_COLUMNS."""
    lines = [
        (table.sheet.file, table.sheet.file_sha256, table.sheet.name, row, table.part, "", "", "", "left-out", reason)
        for table in tables.values()
        for row, reason in table.left_out.items()
    ]
    return pd.DataFrame(lines, columns=ASIDE_COLUMNS)
