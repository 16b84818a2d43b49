"""Puts the answers into the rows: an answered value is read like a typed one, and what was typed is kept."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import NamedTuple

import pandas as pd

from pipeline.model import BLANK, TEXT, Reading
from pipeline.settings import Settings

UNKNOWN = "unknown"
POINT = ("decimalLatitude", "decimalLongitude")
Read = Callable[[str, str, str, str], Reading]  # field, text, kind, whose row it is


class Answer(NamedTuple):
    """One answer about one cell of a row; `base_written` and `base_value` are what it said when it was asked."""

    key: str
    field: str
    choice: str
    value: str
    kind: str
    base_written: str
    base_value: str
    who: str
    ref: str


class PutIn(NamedTuple):
    """`rows` with the answers in them; `changes` as those of normalise; `at_rest` the cells of which nobody knows more.

    `changes`: index of the row, field, seen, became, why. `at_rest` are pairs of key and field.
    """

    rows: pd.DataFrame
    changes: pd.DataFrame
    at_rest: frozenset[tuple[str, str]]


def put_in(rows: pd.DataFrame, answers: pd.DataFrame, read: Read, settings: Settings) -> PutIn:
    """The current rows with each answer that still holds: as long as its cell says what it said when it was asked.

    `answers` in the order in which they came: key, field, choice, value, kind, base_written, base_value, who, ref.
    A later answer about the same cell takes the place of an earlier one.
    """
    at = dict(zip(rows["key"], rows.index, strict=True)) if len(answers) else {}
    answers = answers[answers["key"].isin(list(at))]
    typed, rows = rows, rows.copy() if len(answers) else rows
    changes: dict[tuple[int, str], tuple[str, str, str]] = {}
    at_rest: set[tuple[str, str]] = set()
    for answer in (Answer(*line) for line in answers[list(Answer._fields)].itertuples(index=False, name=None)):
        index = at[answer.key]
        if answer.field not in rows or not (_holds(rows, index, answer) or _holds(typed, index, answer)):
            continue
        at_rest.discard((answer.key, answer.field))
        if answer.choice == UNKNOWN:
            at_rest.add((answer.key, answer.field))
        for name, reading, written, kind in _readings(rows, index, answer, read, settings):
            _write(rows, index, name, reading, (written, kind))
            why = f"answered by {answer.who}" + (f" (Ref {answer.ref})" if answer.ref else "")
            changes[index, name] = (str(typed.at[index, f"{name}_written"]), reading.value, why)
    told = [(index, name, *said) for (index, name), said in changes.items() if typed.at[index, name] != said[1]]
    lines = pd.DataFrame(told, columns=["index", "field", "seen", "became", "why"]).set_index("index")
    return PutIn(rows, lines.astype("str"), frozenset(at_rest))


def _holds(rows: pd.DataFrame, index: int, answer: Answer) -> bool:
    """Whether the cell says what it said, in the sender's words or in ours."""
    written, value = rows.at[index, f"{answer.field}_written"], rows.at[index, answer.field]
    return bool(written == answer.base_written or value == answer.base_value)


def _readings(
    rows: pd.DataFrame, index: int, answer: Answer, read: Read, settings: Settings
) -> list[tuple[str, Reading, str, str]]:
    """Field, reading, text and kind of every cell that the answer decides."""
    field, person = answer.field, str(rows.at[index, "person_id"])
    if answer.choice != UNKNOWN:
        return [(field, read(field, answer.value, answer.kind, person), answer.value, answer.kind)]
    if field == "tagCode":
        return []
    if field == "eventDate":
        day = _as_far_as_known(str(rows.at[index, "eventDate"]), settings)
        return [(field, Reading(day), day, TEXT)]
    if field == "scientificName":
        genus = _genus(rows, index, settings)
        return [(field, read(field, genus, TEXT, person), genus, TEXT)] if genus else []
    blank = POINT if field in POINT else (field,)
    return [(name, Reading(""), "", BLANK) for name in blank]


def _as_far_as_known(day: str, settings: Settings) -> str:
    """Of a day that nobody knows: its month, where one was read, else the season."""
    months = {point[:7] for point in day.split("/")}
    if len(months) == 1 and re.fullmatch(r"\d{4}-\d\d(?:-\d\d)?(?:/.*)?", day):
        return months.pop()
    return f"{settings.season.first_day.isoformat()}/{settings.season.last_day.isoformat()}"


def _genus(rows: pd.DataFrame, index: int, settings: Settings) -> str:
    """The genus of the name, or of all the names that it may be; that of the season's species where none was typed.

    Blank where the name is not known or may be of several genera: then it stays as typed, and its row waits.
    """
    named, doubt = (str(rows.at[index, f"scientificName{aspect}"]) for aspect in ("", "_doubt"))
    candidates = str(rows.at[index, "scientificName_candidates"]).split(" | ")
    names = candidates if doubt else [named or settings.species.default]
    genera = {name.split(" ")[0] for name in names}
    return genera.pop() if len(genera) == 1 else ""


def _write(rows: pd.DataFrame, index: int, name: str, reading: Reading, typed: tuple[str, str]) -> None:
    rows.loc[index, name] = reading.value
    rows.loc[index, f"{name}_written"], rows.loc[index, f"{name}_kind"] = typed
    rows.loc[index, f"{name}_doubt"] = reading.doubt
    rows.loc[index, f"{name}_candidates"] = " | ".join(reading.candidates)
    if "sorted_alone" in rows and rows.at[index, "sorted_alone"] == name:
        rows.loc[index, "sorted_alone"] = ""  # whoever answered has looked at the column
