"""How a Darwin Core table is written: its delimiter, its quotation, and which column is which term."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache

from pipeline.audit.all_tests import all_tests
from pipeline.files.schemas import table
from pipeline.files.text_records import LONGEST_CELL, NAMED_DELIMITER

ID = "occurrenceID"
COMMON = ",;\t|"  # of equals the first
PREFIXES = frozenset({"", "dwc", "dc", "dcterms"})
NAME = re.compile(r"(?:https?://)?(?:(?P<space>.*)[/:#])?(?P<name>[^/:#]*)")


class CannotBeAudited(Exception):
    """The file is no table that we can audit; the text says why, in a clause."""


@dataclass(frozen=True)
class Form:
    """How a table is written, and what stands where."""

    delimiter: str
    quote: str  # "" where nothing is quoted
    skipped: int  # rows before the first record, blank ones counted
    width: int  # cells of a record
    places: Mapping[str, int]  # the column of each term that a test asks about
    defaults: Mapping[str, str]  # what stands for an empty cell, or for a term that has no column
    not_asked: int = 0  # columns that no test asks about


@cache
def asked_terms() -> Mapping[str, str]:
    """The terms that tests ask about, and the record's id, by their names in lower case."""
    asked = {term for entry in all_tests() for term in entry.test.acted_upon + entry.test.consulted}
    return {term.lower(): term for term in sorted(asked | {ID})}


@cache
def _known() -> frozenset[str]:
    return frozenset(line["term"].lower() for line in table("darwin_core_terms.csv")) | frozenset(asked_terms())


@cache
def _spaces() -> frozenset[str]:
    addresses = (line["iri"].lower().partition("://")[2] for line in table("darwin_core_terms.csv"))
    return PREFIXES | {address.rpartition("/")[0] for address in addresses}


def bare(heading: str) -> str:
    """The name of a Darwin Core term in lower case, "" where a heading is none.

    >>> bare("dwc:eventDate"), bare(" EVENTDATE"), bare("http://rs.tdwg.org/dwc/terms/eventDate")
    ('eventdate', 'eventdate', 'eventdate')
    >>> bare("dwciri:sex"), bare("my notes")
    ('', '')
    """
    found = NAME.fullmatch(heading.strip().strip("\ufeff").lower())
    if found is None or (found["space"] or "") not in _spaces():
        return ""
    name: str = found["name"]
    return name if name in _known() else ""


def places_of(headings: Mapping[int, str]) -> dict[str, int]:
    """The column of each term that a test asks about."""
    names = {place: bare(heading) for place, heading in headings.items()}
    if not any(names.values()):
        raise CannotBeAudited("none of its headings is a term of Darwin Core, such as eventDate or scientificName")
    places: dict[str, int] = {}
    for place, name in sorted(names.items()):
        term = asked_terms().get(name)
        if term in places:
            raise CannotBeAudited(
                f"columns {places[term] + 1} and {place + 1} are both the term {term}. Take one of them out"
            )
        if term:
            places[term] = place
    return places


def form_of(head: str) -> Form:
    """How a text table is written that starts so, its first row that is not blank being its headings."""
    csv.field_size_limit(LONGEST_CELL)
    named = NAMED_DELIMITER.match(head)
    text = head[named.end() :] if named else head
    first = next((line for line in text.splitlines() if line.strip()), "")
    delimiter = named[1] if named else _delimiter(first)
    at, headings = _headings(text, delimiter)
    places = places_of(dict(enumerate(headings)))
    return Form(
        delimiter,
        '"' if _is_quoted(text, delimiter, len(headings)) else "",
        at + 1 + bool(named),
        len(headings),
        places,
        {},
        len(headings) - len(places),
    )


def _delimiter(line: str) -> str:
    """The sign that cuts the line of headings into the most terms."""
    others = {sign for sign in line if not sign.isalnum() and sign not in '"\r\n' + COMMON}
    terms: dict[str, int] = {
        sign: sum(bool(bare(cell)) for cell in _cells(line, sign)) for sign in [*COMMON, *sorted(others)]
    }
    return max(terms, key=lambda sign: terms[sign])


def _cells(line: str, delimiter: str) -> list[str]:
    return next(csv.reader([line], delimiter=delimiter), [])


def _headings(text: str, delimiter: str) -> tuple[int, list[str]]:
    for at, cells in enumerate(csv.reader(io.StringIO(text, newline=""), delimiter=delimiter)):
        if any(cell.strip() for cell in cells):
            return at, cells
    raise CannotBeAudited("it is empty")


def _is_quoted(text: str, delimiter: str, width: int) -> bool:
    """Whether cells may stand in quotation marks: not, where that makes more records uneven."""
    if '"' not in text:
        return True
    try:
        quoted = _uneven(csv.reader(io.StringIO(text, newline=""), delimiter=delimiter), width)
    except csv.Error:
        return False
    return quoted <= _uneven((line.split(delimiter) for line in text.splitlines() if line), width)


def _uneven(records: Iterable[Sequence[str]], width: int) -> int:
    return sum(len(record) != width for record in records if record)
