"""Keeps findings and questions in the ledger: what is open, what was answered, what no longer holds."""

from __future__ import annotations

import sqlite3
from collections.abc import Mapping, Sequence
from typing import Any

import pandas as pd

from pipeline.files.ledger import LIVE, frame, insert

FINDINGS = [
    "identity", "ref", "number", "addressee", "key", "person_id", "file", "file_sha256", "sheet", "row", "column",
    "field", "rule", "severity", "asks", "seen", "suggestion", "message", "words", "state", "run", "fingerprint",
    "value",
]  # fmt: skip
QUESTIONS = ["ref", "number", "addressee", "rule", "severity", "leading", "n_rows", "is_sheet", "state", "since", "run"]


def keep_findings(
    ledger: sqlite3.Connection,
    found: tuple[pd.DataFrame, pd.DataFrame],
    shas: Sequence[str],
    when: tuple[str, int],
) -> None:
    """Writes the findings and questions of a run about the files with these SHA-256; `when` is its day and number.

    What was open before and is no longer found was answered, if it was, or does not hold any more.
    """
    findings, questions = found
    day, run = when
    findings = findings.assign(identity=_identities(findings))
    questions = _numbered(ledger, questions, findings)
    asked: dict[str, list[Any]] = {}
    for part in [shas[at : at + 500] for at in range(0, len(shas), 500)]:
        gone = f"state IN ('open', 'noted', 'waived', 'answered') AND file_sha256 IN ({', '.join('?' * len(part))})"
        known = "SELECT identity, ref, number, addressee FROM findings WHERE ref != '' AND " + gone
        asked |= {identity: line for identity, *line in ledger.execute(known, part)}
        of_gone = f"ref IN (SELECT ref FROM findings WHERE {gone})"
        ledger.execute(f"UPDATE questions SET state = 'closed' WHERE {of_gone}", part)
        ledger.execute(f"UPDATE findings SET state = {_WHAT_BECAME} WHERE {gone}", part)
    insert(ledger, "findings", _finding_lines(findings, questions, run, asked))
    since = dict(ledger.execute("SELECT ref, since FROM questions WHERE since != ''"))
    leading = findings["identity"].reindex(questions["finding"]).tolist()
    lines = questions.assign(
        state="open", run=run, since=[since.get(ref, day) for ref in questions["ref"]], leading=leading,
        is_sheet=questions["is_sheet"].astype("int64"),
    )  # fmt: skip
    insert(ledger, "questions", lines[QUESTIONS])


_ANSWERED = f"SELECT 1 FROM answers WHERE answers.ref = findings.ref AND {LIVE.replace('run', 'answers.run', 1)}"
_WHAT_BECAME = f"CASE WHEN ref != '' AND EXISTS ({_ANSWERED}) THEN 'answered' ELSE 'withdrawn' END"


def _identities(findings: pd.DataFrame) -> pd.Series:
    place = (
        findings["file_sha256"] + "|" + findings["sheet"] + "|" + findings["row"].astype("str") + "|"
        + findings["column"]
    )  # fmt: skip
    is_place = findings["key"] == ""
    return (
        findings["key"].where(~is_place, place) + "|" + findings["field"] + "|" + findings["rule"] + "|"
        + findings["file"].where(is_place, "")
    )  # fmt: skip


def _numbered(ledger: sqlite3.Connection, questions: pd.DataFrame, findings: pd.DataFrame) -> pd.DataFrame:
    """Each question with its number: an open one keeps it, a new one counts on from the person's last."""
    known = frame(ledger, "SELECT addressee, ref, number FROM questions")
    old = dict(zip(known["ref"], known["number"], strict=True))
    last = known.groupby("addressee")["number"].max().to_dict() if len(known) else {}
    numbers = []
    for addressee, ref in questions[["addressee", "ref"]].itertuples(index=False):
        if ref not in old:
            last[addressee] = old[ref] = int(last.get(addressee, 0)) + 1
        numbers.append(old[ref])
    return questions.assign(number=pd.Series(numbers, index=questions.index, dtype="int64"))


def _finding_lines(
    findings: pd.DataFrame, questions: pd.DataFrame, run: int, asked: Mapping[str, Sequence[Any]]
) -> pd.DataFrame:
    """The findings with Ref, number and addressee of their question; what is settled keeps those it was asked under."""
    of_question = questions[["ref", "number", "addressee", "findings"]].explode("findings").set_index("findings")
    lines = findings.assign(
        ref=of_question["ref"].reindex(findings.index).fillna("").astype("str"),
        addressee=of_question["addressee"].reindex(findings.index).fillna("").astype("str"),
        number=of_question["number"].reindex(findings.index).fillna(0).astype("int64"),
        run=run,
    )
    was_asked = (lines["ref"] == "") & (lines["state"] != "open") & lines["identity"].isin(list(asked))
    before = [asked[str(identity)] for identity in lines.loc[was_asked, "identity"]]
    for place, name in enumerate(("ref", "number", "addressee") if before else ()):
        lines.loc[was_asked, name] = [line[place] for line in before]
    return lines.drop_duplicates("identity")[FINDINGS]
