"""The open questions of the ledger with their findings, as letters and question sheets are made of them."""

from __future__ import annotations

import sqlite3
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from pipeline.files.intake import natural_order
from pipeline.files.ledger import frame
from pipeline.frames import lines_of

RANK = {"must-answer": 0, "please-check": 1}
_FINDINGS = """
    SELECT identity, ref, f.person_id AS person_id, file, f.file_sha256 AS file_sha256, sheet, row, "column", field,
        rule, severity, asks, seen, suggestion, state, words, f.key AS key, coalesce(tag_written, '') AS tag
    FROM findings f LEFT JOIN records r ON r.key = f.key WHERE state IN ('open', 'noted') ORDER BY identity
"""


@dataclass(frozen=True)
class Open:
    """Findings that are open or noted, and the questions: `finding` and `findings` are places among the findings."""

    findings: Sequence[Mapping[str, Any]]
    questions: Sequence[Mapping[str, Any]]


def open_questions(ledger: sqlite3.Connection) -> Open:
    """All that is asked now, each addressee's questions together, what blocks first."""
    findings = lines_of(frame(ledger, _FINDINGS))
    members: dict[str, list[int]] = {}
    leading: dict[str, int] = {}
    for place, line in enumerate(findings):
        leading[line["identity"]] = place
        if line["state"] == "open" and line["ref"]:
            members.setdefault(line["ref"], []).append(place)
    asked = lines_of(frame(ledger, "SELECT * FROM questions WHERE state = 'open'"))
    questions = [
        {**line, "finding": leading[line["leading"]], "findings": tuple(members[line["ref"]])}
        for line in asked
        if line["ref"] in members
    ]
    questions.sort(key=lambda line: _order(line, findings[line["finding"]]))
    return Open(findings, questions)


def _order(question: Mapping[str, Any], first: Mapping[str, Any]) -> tuple[Any, ...]:
    place = (natural_order(first["file"]), first["sheet"], first["row"], first["column"])
    return (question["addressee"], RANK[question["severity"]], *place, question["number"])
