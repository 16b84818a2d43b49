"""Writes what a run found into the ledger, in place of what it knew of the same files."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterable
from datetime import date
from typing import Any

import numpy as np
import pandas as pd

from pipeline.examine import Examined
from pipeline.files.archive_batches import keep_batch
from pipeline.files.journal import Entry, write_down
from pipeline.files.keep_findings import keep_findings
from pipeline.files.ledger import frame, insert, look_at
from pipeline.files.ledger_tables import table_lines
from pipeline.frames import known_of, letter, lines_of
from pipeline.published import UNDONE, Published

ROWS = [
    "file", "sheet", "row", "part", "file_sha256", "key", "person_id", "state", "reason", "occurrence_id", "digest",
    "modified", "batch_id", "is_rounded",
]  # fmt: skip
PUBLISHED = ["occurrence_id", "digest", "modified", "batch_id", "is_rounded"]
OF_FINDER = [
    "person_id", "contact", "recordedBy", "municipality", "locality", "stateProvince", "countryCode", "eventDate",
]  # fmt: skip
NOT_RELEASED = {"the tag was lost": "lost", "the tag was spoiled": "spoiled", "the tag was not used": "not used"}
_OF_RUN = {"tables": "number > 0 AND "}  # the pages of question sheets that came back are listed below 0
REPLACED_EACH_RUN = ("rows", "records", "values_now", "changes", "tables", "finds")


def remember(ledger: sqlite3.Connection, examined: Examined, published: Published, when: tuple[date, int]) -> None:
    """Keeps rows, values, findings, questions and batch of this run; `when` is its day and number."""
    today, run = when
    shas = sorted(examined.shas)
    known = _ids(ledger, shas)
    for table in REPLACED_EACH_RUN:
        ledger.executemany(
            f"DELETE FROM {table} WHERE {_OF_RUN.get(table, '')}file_sha256 = ?", [(one,) for one in shas]
        )
    lines = _row_lines(examined, published, known)
    insert(ledger, "rows", lines)
    _keep_records(ledger, examined, published)
    _keep_values(ledger, examined)
    _keep_finds(ledger, published)
    _keep_changes(ledger, examined)
    senders = dict(zip(examined.files["file_sha256"], examined.files["person_id"], strict=True))
    insert(ledger, "tables", table_lines(examined.tables, dict(examined.rows_of_table), senders))
    _keep_links(ledger, examined, today, run)
    keep_findings(ledger, (examined.findings, examined.questions), shas, (today.isoformat(), run))
    if published.batch_id and not published.is_refused:
        ledger.execute("UPDATE rows SET digest = '' WHERE state = 'withdrawn' AND reason = ?", (UNDONE,))
        line = (
            published.batch_id, today.isoformat(), published.records, published.withdrawn,
            json.dumps(published.sha256s, sort_keys=True), run,
        )  # fmt: skip
        ledger.execute("INSERT INTO batches VALUES (?, ?, ?, ?, ?, ?)", line)
        if published.staged:
            keep_batch(ledger, published.batch_id, published.staged)
        became = f"{published.records} records, {published.withdrawn} withdrawn"
        write_down(ledger, (today, run), [Entry("tagsheaf", "batch", published.batch_id, became=became)])


def _ids(ledger: sqlite3.Connection, shas: Iterable[str]) -> pd.DataFrame:
    """What was ever published of each key that is put aside now."""
    names = ", ".join(PUBLISHED)
    look_at(ledger, shas)
    looked_at = "file_sha256 IN (SELECT sha256 FROM looked_at)"
    query = f"SELECT key, {names} FROM rows WHERE occurrence_id != '' AND {looked_at}"
    return frame(ledger, query).drop_duplicates("key")


def _row_lines(examined: Examined, published: Published, known: pd.DataFrame) -> pd.DataFrame:
    """A line for every sheet row that was read: current rows, rows put aside, and those of copied files."""
    aside = examined.aside
    keeps_id = ~aside["state"].isin(["copy", "replaced"]) & (aside["key"] != "")
    by_key = known.set_index("key")
    ids = {name: known_of(aside["key"].where(keeps_id, ""), by_key[name]) for name in PUBLISHED}
    # What was put aside is no longer at the portal, unless the gate keeps the batch that says so.
    if not published.is_refused:
        ids["digest"] = pd.Series("", index=aside.index, dtype="str")
    aside = aside.assign(**ids)[ROWS]
    senders = dict(zip(examined.files["file_sha256"], examined.files["person_id"], strict=True))
    no_sender = aside["person_id"] == ""
    aside["person_id"] = aside["person_id"].where(~no_sender, known_of(aside["file_sha256"], senders))
    lines = pd.concat([published.rows[ROWS], aside], ignore_index=True)
    copies = examined.files.loc[examined.files["copy_of"] != "", ["file", "copy_of", "file_sha256"]]
    copied = copies.merge(lines, on="file_sha256", suffixes=("", "_first"))
    copied = copied.assign(
        state=copied["state"].where(copied["state"] == "left-out", "copy"),
        reason=copied["reason"].where(copied["state"] == "left-out", "the same bytes as " + copied["copy_of"]),
        **dict.fromkeys(PUBLISHED, ""),
    )
    return pd.concat([lines, copied[ROWS]], ignore_index=True)


def _keep_records(ledger: sqlite3.Connection, examined: Examined, published: Published) -> None:
    """Each current record as others need to know it, and each tag that was said not to have been released."""
    rows = published.rows
    tag = examined.rows["tagCode"].where(examined.rows["tagCode_doubt"] == "", "")
    columns = [
        *(rows[name].tolist() for name in ("key", "file_sha256", "person_id")), tag.tolist(),
        *(rows[name].tolist() for name in ("recordKind", "tagCode_written")),
        *(_days(rows[name]) for name in ("first_day", "last_day")),
        *(_numbers(rows[name]) for name in ("place_latitude", "place_longitude", "metres")),
        *(rows[name].tolist() for name in ("sex", "scientificName", "eventDate", "stateProvince")),
        [code in examined.tags or not examined.tags for code in tag.tolist()],
    ]  # fmt: skip
    marks = ", ".join("?" * len(columns))
    ledger.executemany(f"INSERT OR REPLACE INTO records VALUES ({marks})", zip(*columns, strict=True))
    told = examined.aside[examined.aside["reason"].isin(list(NOT_RELEASED)) & (examined.aside["state"] == "left-out")]
    lines = told[["key", "file_sha256", "person_id"]].assign(tag=told["tagCode"], kind=told["reason"].map(NOT_RELEASED))
    insert(ledger, "records", lines)


def _days(days: pd.Series) -> list[str | None]:
    texts = np.datetime_as_string(days.to_numpy().astype("datetime64[D]"))
    return [None if text == "NaT" else text for text in texts.tolist()]


def _numbers(numbers: pd.Series) -> list[float | None]:
    return [None if number != number else number for number in numbers.tolist()]


def _keep_finds(ledger: sqlite3.Connection, published: Published) -> None:
    """The finds with all that a letter to the finder says."""
    finds = published.finds
    told = published.rows.loc[published.rows["recordKind"] == "find", ["key", *OF_FINDER]]
    lines = lines_of(finds.merge(told, left_on="find_key", right_on="key", how="left"))
    ledger.executemany(
        "INSERT OR REPLACE INTO finds VALUES (?, ?, ?, ?)",
        ((line["key"], line["find_sha256"], bool(line["release_occurrence_id"]), json.dumps(line)) for line in lines),
    )


def _keep_values(ledger: sqlite3.Connection, examined: Examined) -> None:
    """The current value of every field, column by column, a line a table; as typed only where that differs."""
    rows, lines = examined.rows, []
    fields = [name.removesuffix("_candidates") for name in rows.columns if name.endswith("_candidates")]
    filled = [name for name in fields if (rows[name] != "").any() or (rows[f"{name}_written"] != "").any()]
    texts = {name: (rows[name].tolist(), rows[f"{name}_written"].tolist()) for name in filled}
    places = _places(rows, "file_sha256", "sheet", "table")
    keys = rows["key"].tolist()
    for place, at in places.items():
        values = {name: _column(value, typed, at) for name, (value, typed) in texts.items()}
        told = {name: column for name, column in values.items() if column}
        lines.append((*place, json.dumps([keys[i] for i in at]), json.dumps(told)))
    ledger.executemany("INSERT OR REPLACE INTO values_now VALUES (?, ?, ?, ?, ?)", lines)


def _places(table: pd.DataFrame, *names: str) -> dict[tuple[Any, ...], list[int]]:
    """Where the lines with the same values in these columns stand."""
    places: dict[tuple[Any, ...], list[int]] = {}
    for at, place in enumerate(zip(*(table[name].tolist() for name in names), strict=True)):
        places.setdefault(place, []).append(at)
    return places


def _column(value: list[str], typed: list[str], at: list[int]) -> list[list[str]]:
    now, before = [value[i] for i in at], [typed[i] for i in at]
    if not any(now) and not any(before):
        return []
    return [now] if now == before else [now, before]


def _keep_changes(ledger: sqlite3.Connection, examined: Examined) -> None:
    """The changes of each file as they are told, column by column, in the order of its cells."""
    names = ["person_id", "sheet", "row", "column", "field", "seen", "became", "why"]
    order = ["file", "file_sha256", "sheet", "row", "column", "field"]
    changes = examined.changes.sort_values(order, kind="stable")
    shown = changes.assign(row=changes["row"].astype("str"), column=changes["column"].map(letter))
    columns = {name: shown[name].tolist() for name in names}
    ledger.executemany(
        "INSERT OR REPLACE INTO changes VALUES (?, ?, ?)",
        (
            (*place, json.dumps({name: [column[i] for i in at] for name, column in columns.items()}))
            for place, at in _places(shown, "file", "file_sha256").items()
        ),
    )


def _keep_links(ledger: sqlite3.Connection, examined: Examined, today: date, run: int) -> None:
    links = [(place, key, how, run) for place, (key, how) in examined.links.items()]
    ledger.executemany("INSERT OR REPLACE INTO links VALUES (?, ?, ?, ?)", links)
    matched = [(sha256, person, older, run) for (sha256, person), older in examined.matched.items()]
    ledger.executemany("INSERT OR REPLACE INTO matched VALUES (?, ?, ?, ?)", matched)
    write_down(ledger, (today, run), _versions(examined))


def _versions(examined: Examined) -> Iterable[Entry]:
    """A journal entry for each row that a newer version took the place of in this run."""
    replaced = examined.aside[(examined.aside["state"] == "replaced")]
    new = {key for key, how in examined.links.values() if how == "newer"}
    for line in lines_of(replaced[replaced["key"].isin(new)][["person_id", "key", "file", "row", "reason"]]):
        was = f"row {line['row']} of {line['file']}"
        yield Entry(line["person_id"], "row came again", line["key"], was, line["reason"])
