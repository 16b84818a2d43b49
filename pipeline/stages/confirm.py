"""Findings that were answered: confirmed as right, or put to rest because nobody knows more."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from typing import Any

import pandas as pd

OPEN, WAIVED, ANSWERED = "open", "waived", "answered"


def about(findings: pd.DataFrame) -> pd.Series:
    """What each finding is about, as answers name it: the key of its row, else the place in its file."""
    place = (
        findings["file_sha256"] + "|" + findings["sheet"] + "|" + findings["row"].astype("str") + "|"
        + findings["column"]
    )  # fmt: skip
    return findings["key"].where(findings["key"] != "", place)


def place_of(finding: Mapping[str, Any]) -> str:
    """The place in its file that a finding without a row is about."""
    return "|".join(str(finding[name]) for name in ("file_sha256", "sheet", "row", "column"))


def confirmed(findings: pd.DataFrame, waivers: pd.DataFrame, at_rest: Collection[tuple[str, str]]) -> pd.DataFrame:
    """The findings, those waived that somebody confirmed, those answered about whose cell nobody knows more.

    A waiver (key, rule, fingerprint) holds as long as every value that the rule read stays what it was. What is
    answered without being known still holds its row where the rule holds rows.
    """
    if not len(findings) or not (len(waivers) or at_rest):
        return findings
    whose = about(findings)
    is_open = findings["state"] == OPEN
    marks = whose + "|" + findings["rule"] + "|" + findings["fingerprint"]
    is_waived = is_open & marks.isin(set(waivers["key"] + "|" + waivers["rule"] + "|" + waivers["fingerprint"]))
    cells = whose + "|" + findings["field"]
    is_at_rest = is_open & cells.isin({f"{key}|{field}" for key, field in at_rest})
    state = findings["state"].mask(is_at_rest, ANSWERED).mask(is_waived, WAIVED)
    return findings.assign(state=state)
