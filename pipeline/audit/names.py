"""The scientific names that we carry, and what they can and cannot tell of a name somebody wrote.

They are the butterflies of the programme and what is taken for them: a name that is not among them may be a good one.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import NamedTuple

from pipeline.audit.audit_test import Response, cannot_say, compliant, is_empty, not_compliant, source_is_missing
from pipeline.audit.word_lists import loosely, shown
from pipeline.values.text import tidy

RANKS = ("kingdom", "phylum", "class", "order", "family", "genus")
NOT_CARRIED = "the names that we carry are butterflies of the programme only and cannot tell"
NO_NAMES = "there is no list of names here"
COMMON_NAMES = ("vernacular_en", "vernacular_fr", "vernacular_es")


class Name(NamedTuple):
    """A scientific name that we carry: its rank, the taxon that bears it, and the authorship where we know it."""

    name: str
    rank: str
    taxon: str
    authorship: str = ""


@dataclass(frozen=True)
class KnownNames:
    """Scientific names of every rank, groups with what stands above them, and common names."""

    names: Mapping[str, Name] = field(default_factory=dict)
    above: Mapping[tuple[str, str], Mapping[str, str]] = field(default_factory=dict)  # by rank and loose name
    loose: Mapping[str, str] = field(default_factory=dict)  # a loose spelling: the name
    common: frozenset[str] = frozenset()  # tidied

    def __bool__(self) -> bool:
        return bool(self.names)


def known_names(rows: Iterable[Mapping[str, str]]) -> KnownNames:
    """The names in rows of taxa.csv; an accepted name goes before a synonym that is written like it."""
    rows = list(rows)
    names: dict[str, Name] = {}
    above: dict[tuple[str, str], Mapping[str, str]] = {}
    for row in rows:
        names[row["scientificName"]] = Name(
            row["scientificName"], row["rank"], row["scientificName"], row["authorship"]
        )
        for place, rank in enumerate(RANKS):
            if not row[rank]:
                continue
            names.setdefault(row[rank], Name(row[rank], rank, row[rank]))
            above.setdefault((rank, loosely(row[rank])), {upper: row[upper] for upper in RANKS[:place]})
    for row in rows:
        for synonym in filter(None, row["synonyms"].split(" | ")):
            genus, *epithets = synonym.split(" ")
            rank = "subspecies" if len(epithets) > 1 else "species"
            names.setdefault(synonym, Name(synonym, rank, row["scientificName"]))
            names.setdefault(genus, Name(genus, "genus", genus))
    common = {tidy(name) for row in rows for column in COMMON_NAMES for name in row[column].split(" | ")}
    return KnownNames(names, above, {loosely(name): name for name in names}, frozenset(common - {""}))


def found_at(rank: str, value: str, taxa: KnownNames) -> Response:
    """Whether a value is a name of this rank in our list; where the list cannot tell, that is said."""
    if not taxa:
        return source_is_missing(NO_NAMES)
    if is_empty(value):
        return cannot_say(f"{rank} is empty")
    if known := taxa.names.get(value):
        return compliant() if known.rank == rank else not_compliant(f"{value} is a name of rank {known.rank}")
    return _as_written(value, rank, taxa)


def found(value: str, taxa: KnownNames) -> Response:
    """Whether a value is a scientific name in our list, of whatever rank, with or without its authorship."""
    if not taxa:
        return source_is_missing(NO_NAMES)
    if is_empty(value):
        return cannot_say("scientificName is empty")
    if name_in(value, taxa):
        return compliant()
    if is_common_name(value, taxa):
        return not_compliant(f"{shown(value)} is a common name")
    return _as_written(value, "", taxa)


def name_in(value: str, taxa: KnownNames) -> Name | None:
    """The name that we carry in a value that may hold its authorship too; None where we carry no such name."""
    if known := taxa.names.get(value):
        return known
    words = value.split(" ", 4)
    for number in (3, 2, 1):
        known = taxa.names.get(" ".join(words[:number])) if len(words) > number else None
        if known:
            return known if is_authorship(value[len(known.name) :], known) else None
    return None


def is_authorship(written: str, known: Name) -> bool:
    """Whether an authorship is that of the name as we know it; brackets, dots and commas make no difference."""
    return bool(known.authorship) and tidy(written) == tidy(known.authorship)


def is_common_name(value: str, taxa: KnownNames) -> bool:
    """Whether a value is one of our common names and cannot be the name of a genus elsewhere (Morio, Monarcha)."""
    return (value[0].islower() or " " in value.strip()) and tidy(value) in taxa.common


def _as_written(value: str, rank: str, taxa: KnownNames) -> Response:
    name = taxa.loose.get(loosely(value), "")
    if name and rank in ("", taxa.names[name].rank):
        return not_compliant(f"it is written {shown(value)}; the name is {name}")
    return source_is_missing(f"{shown(value)}: {NOT_CARRIED}")
