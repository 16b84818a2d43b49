"""Reads the data of the `schemas` package, wherever it is installed."""

from __future__ import annotations

import csv
import hashlib
import io
import lzma
from collections.abc import Iterable
from functools import cache
from importlib.metadata import version
from importlib.resources import files
from importlib.resources.abc import Traversable

from pipeline.values import answer_words as answers_in_words
from pipeline.values import heading
from pipeline.values.answer_words import AnswerWords
from pipeline.values.choice import Words
from pipeline.values.datum import NO_DATUM, compact
from pipeline.values.heading import HeadingNames
from pipeline.values.lists import Field, Lists, State
from pipeline.values.text import tidy

Lines = tuple[dict[str, str], ...]


def text(name: str) -> str:
    """The text of a file of `schemas/`, for instance "vocabularies/sex.csv"."""
    return files("schemas").joinpath(name).read_text(encoding="utf-8")


@cache
def table(name: str) -> Lines:
    """A table of `schemas/` as one dict a line, all cells text."""
    return tuple(csv.DictReader(io.StringIO(text(name))))


def packed(name: str) -> bytes:
    """A file of `schemas/` that is packed with LZMA, unpacked."""
    return lzma.decompress(files("schemas").joinpath(name).read_bytes())


@cache
def fields() -> tuple[Field, ...]:
    """The fields of the contract, in order."""
    return tuple(Field(line["field"], line["read_as"], line["list"], line["needed"]) for line in table("fields.csv"))


@cache
def heading_names() -> HeadingNames:
    """The known headings; one for the whole run, for their look-ups are remembered."""
    return heading.heading_names(table("headings.csv"), table("fields.csv"))


@cache
def words(name: str) -> Words:
    """The spellings of one list; a spelling that means two things in two languages is apart."""
    lines = table(f"vocabularies/{name}.csv")
    known = {tidy(line["written"]) or line["written"]: line["value"] for line in lines if line["value"] != "?"}
    unclear = frozenset(tidy(line["written"]) for line in lines if line["value"] == "?")
    return Words(known, unclear)


@cache
def answer_words() -> AnswerWords:
    """The words of answers, in every language that a question sheet is written in."""
    return answers_in_words.answer_words(
        table("vocabularies/answer_words.csv"), table("vocabularies/tag_fate.csv"), table("messages/labels.csv")
    )


def _grouped(pairs: Iterable[tuple[str, str]]) -> dict[str, tuple[str, ...]]:
    grouped: dict[str, tuple[str, ...]] = {}
    for spelling, value in pairs:
        if spelling and value not in grouped.get(spelling, ()):
            grouped[spelling] = (*grouped.get(spelling, ()), value)
    return grouped


def _names_of_taxa(taxa: Lines) -> dict[str, tuple[str, ...]]:
    columns = ("scientificName", "vernacular_en", "vernacular_fr", "vernacular_es", "synonyms")
    return _grouped(
        (tidy(name), line["scientificName"])
        for line in taxa
        for column in columns
        for name in line.get(column, "").split(" | ")
    )


@cache
def _states() -> dict[str, tuple[State, ...]]:
    grouped: dict[str, tuple[State, ...]] = {}
    for line in table("vocabularies/states.csv"):
        spelling, state = tidy(line["written"]), State(line["name"], line["code"], line["country"])
        if state not in grouped.get(spelling, ()):
            grouped[spelling] = (*grouped.get(spelling, ()), state)
    return grouped


@cache
def portal_columns() -> dict[str, tuple[str, ...]]:
    """The columns that may leave the house, by table: an allow-list."""
    lines = table("portal_columns.csv")
    names = dict.fromkeys(line["table"] for line in lines)
    return {name: tuple(line["column"] for line in lines if line["table"] == name) for name in names}


@cache
def country_names() -> dict[str, str]:
    """The English name of each country by its ISO 3166-1 code."""
    lines = [line for line in table("vocabularies/countries.csv") if line["language"] == "en"]
    return {line["code"]: line["written"] for line in reversed(lines)}


def lists(own_taxa: Lines = ()) -> Lists:
    """Every list that a cell may be read against; the programme's taxa add to ours."""
    taxa = (*table("taxa.csv"), *own_taxa)
    return Lists(
        fields=fields(),
        choices={field.list: words(field.list) for field in fields() if field.list},
        countries={tidy(line["written"]): line["code"] for line in table("vocabularies/countries.csv")},
        states=_states(),
        taxa=_names_of_taxa(taxa),
        taxon_ranks={line["scientificName"]: line["rank"] for line in taxa},
        datums={compact(line["written"]): line["code"] or NO_DATUM for line in table("vocabularies/datums.csv")},
    )


def fingerprint() -> str:
    """A digest of our version, schemas and rules: when it changes, everything is looked at again."""
    digest = hashlib.sha256(version("tagsheaf").encode())
    for package in ("schemas", "pipeline"):
        for path in _files_below(files(package)):
            digest.update(path.read_bytes())
    return digest.hexdigest()


def _files_below(folder: Traversable) -> Iterable[Traversable]:
    for path in sorted(folder.iterdir(), key=lambda path: path.name):
        if path.is_dir() and path.name not in ("boundaries", "__pycache__"):
            yield from _files_below(path)
        elif path.name.endswith((".py", ".csv", ".json")):
            yield path
