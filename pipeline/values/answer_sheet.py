"""What the columns of a question sheet are, however it was sorted, moved about and saved."""

from __future__ import annotations

import unicodedata
from collections.abc import Mapping, Sequence
from itertools import pairwise
from typing import Literal, NamedTuple

from pipeline.values.answer_words import AnswerWords
from pipeline.values.ref import is_ref
from pipeline.values.text import read, tidy

About = Literal["question", "row", "tag"]

# The order in which the sheets are written; the sender's own cells follow those of a row.
ORDER: dict[About, tuple[str, ...]] = {
    "question": ("ref", "number", "row", "tag", "wrote", "wonder", "suggestion", "answer", "other", "why", "kind"),
    "row": ("ref", "status", "row"),
    "tag": ("ref", "tag", "fate"),
}
# Labels that stand above nobody else's columns, and words that stand in nobody else's cells.
_ONLY_OURS = frozenset({"row", "wrote", "wonder", "suggestion", "answer", "other", "fate"})
_KINDS = frozenset({"must_answer", "please_check", "neighbour"})
_KIND_FROM = ORDER["question"].index("why")  # a column may have been taken out


class Head(NamedTuple):
    """The columns of a sheet: ours by their keys, and what stands above each column."""

    about: About
    columns: Mapping[str, int]
    names: tuple[str, ...] = ()


def ref_typed(cell: str) -> str:
    """A Ref as we write it, in capitals and without blanks, however it was typed.

    >>> ref_typed(" k3h8 m2q ")
    'K3H8M2Q'
    """
    return "".join(unicodedata.normalize("NFKC", read(cell).value).split()).upper()


def head_in(row: Sequence[str], words: AnswerWords) -> Head | None:
    """What the columns are if the row is a heading row of ours: one cell says Ref.

    >>> words = AnswerWords(labels={"votre reponse": "answer", "statut": "status", "suite": "fate", "n": "number"})
    >>> dict(head_in(("N°", "Ref", "Votre réponse"), words).columns)
    {'number': 0, 'ref': 1, 'answer': 2}
    >>> [head_in(("Ref", *row), words).about for row in (("Votre réponse",), ("Statut", "Date"), ("", "Suite"))]
    ['question', 'row', 'tag']
    >>> head_in(("Tag", "Ref"), words), head_in(("Tag", "Date"), words)
    (None, None)
    """
    names = tuple(cell.strip() for cell in row)
    if not any(len(name) < 12 and tidy(name) == "ref" for name in names):
        return None
    labels = ["ref" if tidy(name) == "ref" else words.labels.get(tidy(name), "") for name in names]
    columns = {key: labels.index(key) for key in dict.fromkeys(labels) if key}
    beside = _ONLY_OURS if columns["ref"] else {*_ONLY_OURS, "status", "number"}
    if not beside & columns.keys() and (words.labels or columns["ref"]):
        return None
    if columns.keys() & {"answer", "wonder", "suggestion"}:
        return Head("question", _with_neighbours(columns, labels, ORDER["question"]), names)
    if "fate" in columns or ("status" not in columns and len(names) <= len(ORDER["tag"])):
        return Head("tag", _with_neighbours(columns, labels, ORDER["tag"]), names)
    # Of the sender's own headings one may be called like one of ours.
    return Head("row", {key: columns[key] for key in (*ORDER["row"], "file") if key in columns}, names)


def _with_neighbours(columns: Mapping[str, int], labels: list[str], order: Sequence[str]) -> dict[str, int]:
    """The columns, a label that was written over being known by the one before it."""
    found = dict(columns)
    for before, key in pairwise(order):
        place = found.get(before, -2) + 1
        if key not in found and 0 < place < len(labels) and not labels[place]:
            found[key] = place
    return found


def head_lost(rows: Sequence[Sequence[str]], words: AnswerWords) -> Head | None:
    """What the columns are where the headings were lost: as we write them, if a row has our Ref and our words.

    >>> from pipeline.values.ref import ref_of
    >>> words = AnswerWords(labels={"a verifier": "please_check"}, fates={"perdue": "lost"})
    >>> row = (ref_of("a"), "1", "12", "SM0012", "3/9", "...", "", "oui", "", "", "À vérifier")
    >>> head_lost((row,), words).about, head_lost(((ref_of("a"), "SM0012", "perdue"),), words).about
    ('question', 'tag')
    >>> head_lost((("SM0012", "3/9", "perdue"),), words)
    """
    for row in rows:
        if not row or not is_ref(ref_typed(row[0])):
            continue
        keys = [words.labels.get(tidy(cell), "") for cell in row]
        if _KINDS.intersection(keys[_KIND_FROM:]):
            return _as_written("question")
        if _KINDS.intersection(keys[1:2]):
            return _as_written("row")
        if len(row) == len(ORDER["tag"]) and tidy(row[2]) in words.fates:
            return _as_written("tag")
    return None


def _as_written(about: About) -> Head:
    return Head(about, {key: column for column, key in enumerate(ORDER[about])})
