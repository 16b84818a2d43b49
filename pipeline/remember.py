"""Writes what a run found into the ledger, and gives back the whole ledger as the outbox shows it."""

from __future__ import annotations

import json
import sqlite3
from dataclasses import dataclass
from datetime import date

import pandas as pd

from pipeline.examine import Examined
from pipeline.files.ledger import frame, insert
from pipeline.frames import known_of
from pipeline.publish import Published

ROWS = [
    "file", "sheet", "row", "part", "file_sha256", "key", "person_id", "state", "reason", "occurrence_id", "digest",
    "modified", "batch_id", "is_rounded",
]  # fmt: skip
FINDINGS = [
    "identity", "ref", "number", "addressee", "key", "person_id", "file", "file_sha256", "sheet", "row", "column",
    "field", "rule",
    "severity", "asks", "seen", "suggestion", "message", "words", "state", "run",
]  # fmt: skip


@dataclass(frozen=True)
class Kept:
    """The whole ledger as of now: a line a sheet row, a line a finding, the open questions with their numbers."""

    rows: pd.DataFrame
    findings: pd.DataFrame
    questions: pd.DataFrame
    files: pd.DataFrame
    batches: pd.DataFrame


def remember(ledger: sqlite3.Connection, examined: Examined, published: Published, when: tuple[date, int]) -> Kept:
    """Keeps rows, findings and batch of this run; `when` is its day and number."""
    today, run = when
    files = frame(ledger, "SELECT * FROM files ORDER BY file_id")
    senders = dict(zip(examined.files["file"], examined.files["person_id"], strict=True))
    lines = _row_lines(examined, published, files, senders)
    _put_rows(ledger, lines, published.is_refused)
    replaced = frame(ledger, "SELECT * FROM rows WHERE state = 'replaced'")
    questions = _numbered(ledger, examined.questions)
    findings = _finding_lines(examined.findings, questions, run)
    ledger.execute("UPDATE findings SET state = 'withdrawn' WHERE state IN ('open', 'noted')")
    insert(ledger, "findings", findings)
    if published.batch_id and not published.is_refused:
        line = (
            published.batch_id, today.isoformat(), published.records, published.withdrawn,
            json.dumps(published.sha256s, sort_keys=True), run,
        )  # fmt: skip
        ledger.execute("INSERT INTO batches VALUES (?, ?, ?, ?, ?, ?)", line)
    return Kept(
        rows=pd.concat([replaced, lines], ignore_index=True) if len(replaced) else lines,
        findings=frame(ledger, "SELECT * FROM findings"),
        questions=questions,
        files=files,
        batches=frame(ledger, "SELECT * FROM batches ORDER BY batch_id"),
    )


def _put_rows(ledger: sqlite3.Connection, lines: pd.DataFrame, is_refused: bool) -> None:
    """The lines take the place of those of the last run; what was replaced stays."""
    ledger.execute("DELETE FROM rows WHERE state != 'replaced'")
    if not is_refused:
        ledger.execute("UPDATE rows SET digest = '' WHERE state = 'replaced'")
    insert(ledger, "rows", lines)


def _row_lines(examined: Examined, published: Published, files: pd.DataFrame, senders: dict[str, str]) -> pd.DataFrame:
    """A line for every sheet row that was read: current rows, rows put aside, and those of copied files."""
    aside = examined.aside.assign(occurrence_id="", digest="", modified="", batch_id="", is_rounded="")[ROWS]
    no_sender = aside["person_id"] == ""
    aside["person_id"] = aside["person_id"].where(~no_sender, known_of(aside["file"], senders))
    lines = pd.concat([published.rows[ROWS], aside], ignore_index=True)
    copies = files[(files["copy_of"] != "") & (files["replaced_by"] == "")][["file", "copy_of"]]
    copied = copies.merge(lines, left_on="copy_of", right_on="file", suffixes=("", "_first"))
    copied = copied.assign(
        state=copied["state"].where(copied["state"] == "left-out", "copy"),
        reason=copied["reason"].where(copied["state"] == "left-out", "the same bytes as " + copied["copy_of"]),
        occurrence_id="", digest="", modified="", batch_id="", is_rounded="",
    )  # fmt: skip
    return pd.concat([lines, copied[ROWS]], ignore_index=True)


def _numbered(ledger: sqlite3.Connection, questions: pd.DataFrame) -> pd.DataFrame:
    """Each question with its number: an open one keeps it, a new one counts on from the person's last."""
    asked = "SELECT addressee, ref, max(number) AS number FROM findings WHERE number > 0 GROUP BY addressee, ref"
    known = frame(ledger, asked)
    old = dict(zip(known["ref"], known["number"], strict=True))
    last = known.groupby("addressee")["number"].max().to_dict() if len(known) else {}
    numbers = []
    for addressee, ref in questions[["addressee", "ref"]].itertuples(index=False):
        if ref not in old:
            last[addressee] = old[ref] = int(last.get(addressee, 0)) + 1
        numbers.append(old[ref])
    return questions.assign(number=pd.Series(numbers, index=questions.index, dtype="int64"))


def _finding_lines(findings: pd.DataFrame, questions: pd.DataFrame, run: int) -> pd.DataFrame:
    about = findings["key"].where(
        findings["key"] != "",
        findings["file_sha256"]
        + "|"
        + findings["sheet"]
        + "|"
        + findings["row"].astype("str")
        + "|"
        + findings["column"],
    )
    asked = questions[["ref", "number", "addressee", "findings"]].explode("findings").set_index("findings")
    lines = findings.assign(
        identity=about
        + "|"
        + findings["field"]
        + "|"
        + findings["rule"]
        + "|"
        + findings["file"].where(findings["key"] == "", ""),
        ref=asked["ref"].reindex(findings.index).fillna("").astype("str"),
        addressee=asked["addressee"].reindex(findings.index).fillna("").astype("str"),
        number=asked["number"].reindex(findings.index).fillna(0).astype("int64"),
        run=run,
    )
    return lines.drop_duplicates("identity")[FINDINGS]
