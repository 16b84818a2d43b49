"""What the ledger knows beside the cells, as the stages take it: versions, answers, records that stand elsewhere."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable
from typing import Any

import pandas as pd

from pipeline.files.ledger import LIVE, frame
from pipeline.remembered import ANSWERS, DAYS, ELSEWHERE, NUMBERS, TOWN, WAIVERS, Remembered, nothing_elsewhere

SENDER, HEADING = "person_id", "heading"  # what an answer about a file or a heading decides
PAST, UNKNOWN = "past", "unknown"
PROBLEMS = (
    "conflict", "row withdrawn", "not read", "cannot be confirmed", "differs", "one value for many",
    "somebody else's", "no such question",
)  # fmt: skip


def remembered(ledger: sqlite3.Connection, scope: frozenset[str] | None) -> Remembered:
    """All that bears on the files in `scope` (by SHA-256, None for all): records of others stand elsewhere."""
    answers = frame(ledger, f"SELECT * FROM answers WHERE {LIVE} ORDER BY answer_id")
    of_rows = answers[~answers["key"].str.contains("|", regex=False)]
    of_tables = answers[answers["key"].str.contains("|", regex=False)]
    is_town = of_tables["key"].str.startswith(TOWN)
    senders, headings, given = _about_tables(of_tables[~is_town])
    return Remembered(
        order=dict(ledger.execute(f"SELECT sha256, min(file_id) FROM files WHERE {LIVE} GROUP BY sha256")),
        links={place: (key, how) for place, key, how in _live(ledger, "place, key, how", "links")},
        matched={(sha256, who): older for sha256, who, older in _live(ledger, "sha256, person_id, older", "matched")},
        before={new: old for new, old in _live(ledger, "replaced_by, sha256", "files") if new},
        senders=senders,
        writers=writers_of(ledger),
        headings=headings,
        given=given,
        sites=dict(
            zip(of_tables.loc[is_town, "key"].str.removeprefix(TOWN), of_tables.loc[is_town, "value"], strict=True)
        ),
        answers=of_rows[list(ANSWERS)],
        problems=_problems(ledger),
        at_rest=frozenset(
            of_tables.loc[(of_tables["choice"] == UNKNOWN) & ~is_town, ["key", "field"]].itertuples(
                index=False, name=None
            )
        ),
        waivers=frame(ledger, f"SELECT {', '.join(WAIVERS)} FROM waivers WHERE {LIVE}"),
        withdrawn=dict(_live(ledger, "key, why", "withdrawals")),
        is_whole=scope is None,
        tags_before=_tags_before(ledger) if scope is not None else frozenset(),
        answered_by=frozenset(who for (who,) in _live(ledger, "DISTINCT who", "tag_fates")),
        elsewhere=_elsewhere(ledger, scope),
    )


def writers_of(ledger: sqlite3.Connection) -> dict[str, str]:
    """By SHA-256 of each mail, and of each file that came in one: the address that the mail came from."""
    return {sha256: writer for sha256, writer in _live(ledger, "sha256, writer", "mails") if writer}


# What somebody wrote beside a tag of *Your tags* stays unread until something is heard of that tag.
_IS_TAG_UNHEARD_OF = f"""
    outcome = 'not read' AND NOT EXISTS (SELECT 1 FROM records r WHERE r.tag = a.value)
        AND NOT EXISTS (SELECT 1 FROM tag_fates t WHERE t.tag = a.value AND {LIVE.replace("run", "t.run", 1)})
"""


def _problems(ledger: sqlite3.Connection) -> pd.DataFrame:
    """Answer lines that came to nothing yet, each with the question that it is about."""
    marks = ", ".join("?" * len(PROBLEMS))
    query = f"""
        SELECT a.file, a.file_sha256, a.sheet, a.row, a.person_id, a.ref, typed, value, why, outcome, key, field, was,
            answered, coalesce(number, 0) AS number, coalesce(addressee, '') AS addressee, coalesce(rule, '') AS rule,
            coalesce(q.state = 'open', {_IS_TAG_UNHEARD_OF}) AS is_open
        FROM answer_lines a LEFT JOIN questions q ON q.ref = a.ref
        WHERE outcome IN ({marks}) AND {LIVE.replace("run", "a.run", 1)} ORDER BY a.rowid
    """
    answered = {ref for (ref,) in ledger.execute(f"SELECT ref FROM answers WHERE {LIVE}")}
    lines = frame(ledger, query, PROBLEMS)
    return lines.assign(is_open=(lines["is_open"] == 1) & ~lines["ref"].isin(answered))


def _live(ledger: sqlite3.Connection, columns: str, table: str) -> Iterable[Any]:
    return ledger.execute(f"SELECT {columns} FROM {table} WHERE {LIVE}")


Named = dict[tuple[str, str], dict[str, str]]


def _about_tables(answers: pd.DataFrame) -> tuple[dict[str, str], Named, Named]:
    """Senders by SHA-256; headings and values given once by SHA-256 and sheet."""
    senders: dict[str, str] = {}
    headings: Named = {}
    given: Named = {}
    names = ["key", "field", "value", "base_written", "choice"]
    for key, field, value, written, choice in answers[names].itertuples(index=False):
        sha256, sheet = key.split("|")[0], "|".join(key.split("|")[1:-2])
        if choice == UNKNOWN:
            continue
        if field == SENDER:
            senders[sha256] = value
        elif field == HEADING:
            headings.setdefault((sha256, sheet), {})[written] = value
        else:
            given.setdefault((sha256, sheet), {})[field] = value
    return senders, headings, given


def _tags_before(ledger: sqlite3.Connection) -> frozenset[str]:
    """The tags that the files in scope carried when they were last looked at."""
    query = "SELECT DISTINCT tag FROM records WHERE file_sha256 IN (SELECT sha256 FROM scope)"
    return frozenset(tag for (tag,) in ledger.execute(query))


def _elsewhere(ledger: sqlite3.Connection, scope: frozenset[str] | None) -> pd.DataFrame:
    """The records that share a tag with those in scope but are not among them, and what `past` took in."""
    lines = [
        {"tagCode": tag, "recordKind": kind, "sex": sex, "scientificName": species, "first_day": day, "last_day": day,
         "latitude": latitude, "longitude": longitude, "eventDate": day, "occurrence_id": occurrence_id,
         "state": PAST, "file": file, "sheet": season}
        for occurrence_id, season, tag, kind, day, latitude, longitude, sex, species, file in _live(
            ledger, "occurrence_id, season, tag, kind, day, latitude, longitude, sex, species, file", "past"
        )
    ]  # fmt: skip
    others = frame(ledger, _SHARING) if scope is not None else pd.DataFrame()
    if not lines and not len(others):
        return nothing_elsewhere()
    return pd.concat([_typed(pd.DataFrame(lines)), _typed(others)], ignore_index=True)


_SHARING = """
    SELECT tag AS tagCode, kind AS recordKind, records.person_id AS person_id, first_day, last_day, latitude,
        longitude, sex, scientificName, eventDate, stateProvince, metres, occurrence_id, state, file, sheet, row
    FROM records JOIN rows USING (key)
    WHERE tag IN (SELECT tag FROM wanted) AND state IN ('clear', 'held', 'left-out')
        AND records.file_sha256 NOT IN (SELECT sha256 FROM scope)
"""


def _typed(lines: pd.DataFrame) -> pd.DataFrame:
    lines = lines.reindex(columns=list(ELSEWHERE))
    for name in ELSEWHERE:
        if name in DAYS:
            lines[name] = pd.to_datetime(lines[name].astype("str").str[:10], errors="coerce").astype("datetime64[s]")
        elif name in NUMBERS:
            lines[name] = pd.to_numeric(lines[name], errors="coerce").fillna(0 if name == "row" else float("nan"))
        else:
            lines[name] = lines[name].astype("object").fillna("").astype("str")
    return lines.astype(NUMBERS)
