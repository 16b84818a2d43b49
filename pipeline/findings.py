"""From the rows that a rule found to lines of findings: address, suggestion, message."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from string import Formatter
from typing import Any

import pandas as pd

from pipeline.catalogue import Entry
from pipeline.frames import FINDING_COLUMNS, letter
from pipeline.values.wording import spoken

# Facts that only a suggestion is made of.
SUGGESTED = frozenset({"gap_tag", "look_alike_tag", "damaged_tag_was", "tag_shape", "guess", "value_before"})
ADDRESS = ["key", "person_id", "file", "file_sha256", "sheet", "table_id", "row"]


class RuleFailed(Exception):
    """A rule raised: our fault, never a finding."""


def findings_of(
    entry: Entry, frame: pd.DataFrame, mask: pd.Series, places: pd.DataFrame, field: str = ""
) -> pd.DataFrame:
    """The findings of one rule, a line a found row of the frame, with FINDING_COLUMNS; `field` for a cell rule."""
    if not mask.any():
        return pd.DataFrame()
    rule = entry.rule
    found = frame.loc[mask, _needed(entry, frame, field)]
    suggestions = _suggestions(entry, found[field] if rule.scope == "cell" else found)
    field = field or (rule.fields[0] if rule.fields else "")
    lines = pd.DataFrame({name: _address(found, name) for name in ADDRESS}, index=found.index)
    lines["field"] = _field(entry, found, field)
    lines["column"] = _column(found, lines["field"], rule.scope, places)
    lines["rule"], lines["severity"], lines["asks"] = entry.name, rule.severity, rule.asks
    lines["seen"] = _seen(found, lines["field"], rule.scope)
    lines["value"] = found["now"] if rule.scope == "answer" else _values(found, lines["field"])
    lines["suggestion"] = _joined(suggestions, found.index)
    lines["state"] = "noted" if rule.severity == "for-information" else "open"
    shown = _shown(suggestions, found.index).where(lines["suggestion"] != "", "")
    words = _words(entry, found, lines, shown)
    lines["words"] = [json.dumps(one, ensure_ascii=False) for one in words]
    lines["fingerprint"] = _fingerprints(entry, found, field)
    lines["message"] = [spoken(rule.message, rule.unsuggested, one) for one in words]
    return lines[list(FINDING_COLUMNS)]


def _needed(entry: Entry, frame: pd.DataFrame, field: str) -> list[str]:
    """The columns that a finding of the rule is made of."""
    if entry.rule.scope in ("file", "heading", "answer"):
        return list(frame.columns)
    named = [*ADDRESS, field, *entry.rule.fields, *entry.rule.looked_up]
    written = [f"{name}_written" for name in (field, *entry.rule.fields)]
    return [name for name in dict.fromkeys([*named, *written, "recordKind"]) if name in frame.columns]


def _address(found: pd.DataFrame, name: str) -> pd.Series:
    blank: Any = 0 if name == "row" else -1 if name == "table_id" else ""
    return found[name] if name in found else pd.Series(blank, index=found.index)


def _suggestions(entry: Entry, found: pd.DataFrame | pd.Series) -> dict[str, pd.Series]:
    if entry.suggests is None:
        return {}
    try:
        return {field: texts.fillna("").astype("str") for field, texts in entry.suggests(found).items()}
    except Exception as fault:
        raise RuleFailed(f"the rule {entry.name} could not suggest: {fault!r}") from fault


def _joined(suggestions: Mapping[str, pd.Series], index: pd.Index) -> pd.Series:
    """One field: its value; several: `field=value; field=value`; blank if any is missing."""
    if len(suggestions) == 1:
        return next(iter(suggestions.values()))
    joined = pd.Series("", index=index, dtype="str")
    is_whole = pd.Series(bool(suggestions), index=index)
    for field, texts in suggestions.items():
        joined = joined + (joined != "").map({True: "; ", False: ""}) + f"{field}=" + texts
        is_whole &= texts != ""
    return joined.where(is_whole, "")


def _shown(suggestions: Mapping[str, pd.Series], index: pd.Index) -> pd.Series:
    """The suggestion as it stands in a sentence: its values with a comma between."""
    shown = pd.Series("", index=index, dtype="str")
    for texts in suggestions.values():
        shown = shown + (shown != "").map({True: ", ", False: ""}) + texts
    return shown


def _field(entry: Entry, found: pd.DataFrame, field: str) -> pd.Series:
    """The field on which each finding stands."""
    if entry.rule.scope == "heading":
        return found["field"].where(found["field"] != "", found["guess"])
    if entry.stands_on is not None:
        stood_on: pd.Series = entry.stands_on(found)
        return stood_on
    return pd.Series(field, index=found.index, dtype="str")


def _seen(found: pd.DataFrame, fields: pd.Series, scope: str) -> pd.Series:
    if scope == "heading":
        return found["heading"]
    if scope == "file":
        return found["what"]
    if scope == "answer":
        return found["now"].where(found["key"] != "", found["typed"])
    seen = pd.Series("", index=found.index, dtype="str")
    for field in fields.unique():
        if f"{field}_written" in found:
            seen = seen.where(fields != field, found[f"{field}_written"])
    return seen


def _values(found: pd.DataFrame, fields: pd.Series) -> pd.Series:
    """What each cell says in standard form; blank where a finding is about no cell."""
    values = pd.Series("", index=found.index, dtype="str")
    for field in fields.unique():
        if f"{field}_written" in found:
            values = values.where(fields != field, found[field])
    return values


def _column(found: pd.DataFrame, fields: pd.Series, scope: str, places: pd.DataFrame) -> pd.Series:
    """The letter of the column in which each finding's field stands; blank where its table has none."""
    if scope in ("file", "answer"):
        return pd.Series("", index=found.index, dtype="str")
    if scope == "heading":
        return found["column"].map(letter)
    own = places.set_index(["table_id", "field"])["column"]
    where = pd.MultiIndex.from_arrays([found["table_id"], fields])
    return own.reindex(where).fillna(-1).astype("int64").map(letter).set_axis(found.index)


def _words(entry: Entry, found: pd.DataFrame, lines: pd.DataFrame, shown: pd.Series) -> list[dict[str, str]]:
    templates = (entry.rule.message, entry.rule.unsuggested)
    named = {name for template in templates for _, name, _, _ in Formatter().parse(template) if name} | {"suggestion"}
    columns = {
        name: shown if name == "suggestion" else lines[name] if name in lines else found[name] for name in sorted(named)
    }
    texts = {name: [_text(value) for value in column] for name, column in columns.items()}
    return [dict(zip(texts, values, strict=True)) for values in zip(*texts.values(), strict=True)]


def _fingerprints(entry: Entry, found: pd.DataFrame, field: str) -> list[str]:
    """A digest of every value of its row that the rule read: what was confirmed holds as long as it stays the same.

    What we would suggest is no part of it, for that hangs on other rows.
    """
    rule = entry.rule
    if rule.severity == "for-information":
        return [""] * len(found)
    read = [field] if rule.scope == "cell" else dict.fromkeys([*rule.fields, *rule.looked_up])
    names = [name for name in read if name in found and not _suggested(name)]
    values = zip(*([_text(value) for value in found[name]] for name in names), strict=True) if names else found.index
    return [
        hashlib.blake2b(f"{rule.version}\x1f{value}".encode(), digest_size=8).hexdigest() for value in map(str, values)
    ]


def _suggested(name: str) -> bool:
    return name in SUGGESTED or name.startswith("nearest_")


def _text(value: Any) -> str:
    """A value as it stands in a sentence: days as ISO, numbers trimmed, nothing for what is missing."""
    if isinstance(value, str):
        return value
    if pd.isna(value):
        return ""
    if isinstance(value, pd.Timestamp):
        return value.strftime("%Y-%m-%d")
    if isinstance(value, float):
        return f"{value:.6g}" if abs(value) < 1000 else f"{value:.0f}"
    return str(value)
