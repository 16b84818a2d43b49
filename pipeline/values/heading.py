"""What one heading says: which field it names, and what it adds to it (a unit, a west, an order)."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple

from rapidfuzz import fuzz, process

from pipeline.values.heading_hint import hint_of
from pipeline.values.heading_question import asked_for
from pipeline.values.text import tidy

KEPT = "kept"  # a heading that is known and whose cells are kept, but for which there is no field
PERHAPS = "perhaps"  # the hint of a spelling that is too short of meaning to be taken for its field

# Parts of a needed field: a filled cell of theirs makes a row as much as one of the field itself.
NEEDED_PARTS = (
    "coordinates", "latitudeDegrees", "longitudeDegrees", "easting", "northing", "mgrs",
    "day", "month", "year", "tagDigits",
)  # fmt: skip
NEAR, AHEAD, GUESS = 88, 4, 70  # of 100, by rapidfuzz's ratio
SHORTEST = 5  # letters: below, near spellings are other words

_BRACKETED = re.compile(r"[(\[{]([^)\]}]*)[)\]}]?")
_NUMBERED = re.compile(r"\s*(?:q\s*)?\d{1,2}\s*[.):]\s*(?=\D)", re.IGNORECASE)
_CAMEL = re.compile(r"(?<=[a-zà-ÿ])(?=[A-ZÀ-Þ])")
_PATH = re.compile(r"__|\.(?=[^\W\d])|::")  # where a program wrote what a question belongs to
_APART = re.compile(r"\s*[/|\n,;&]\s*|\s+[-–—]\s+")


@dataclass(frozen=True, eq=False)
class HeadingNames:
    """Every known spelling; one is made for a run, so that what was matched once is remembered."""

    fields: dict[str, tuple[str, str]]  # tidied spelling: field and hint
    needed: frozenset[str]  # fields without which a row is no record, and their parts
    long: tuple[str, ...]  # the spellings that near ones are compared with
    words: frozenset[str]  # every word of every spelling: none of them is a slip for another


class Match(NamedTuple):
    """What a heading was taken for: a field, or only a guess at one; the hint is words parted by blanks."""

    field: str = ""
    hint: str = ""
    guess: str = ""
    is_exact: bool = False


Line = Mapping[str, str]


class _Near(NamedTuple):
    score: float
    field: str
    hint: str


def heading_names(spellings: Iterable[Line], fields: Iterable[Line]) -> HeadingNames:
    """The known headings, from the lines of headings.csv and of fields.csv.

    A field's own name is always known, with its words apart or not.
    """
    known: dict[str, tuple[str, str]] = {}
    needed = set(NEEDED_PARTS)
    for line in fields:
        name = line["field"]
        known[tidy(name)] = known[tidy(_CAMEL.sub(" ", name))] = (name, "")
        if line["needed"] != "no":
            needed.add(name)
    for line in spellings:
        known.setdefault(tidy(line["written"]), (line["field"], line["hint"]))
        if line["field"] != KEPT:
            known.setdefault(tidy(line["field"]), (line["field"], ""))
    long = tuple(name for name, (_, hint) in known.items() if len(name) >= SHORTEST and hint != PERHAPS)
    words = frozenset(word for name in known for word in name.split())
    return HeadingNames(known, frozenset(needed), long, words)


@lru_cache(maxsize=20_000)
def known_heading(written: str, names: HeadingNames) -> Match:
    """What a heading names to the letter, once tidied; no field and no guess where it is not known."""
    for spelling, said in _spellings(written):
        field, hint = names.fields.get(spelling, ("", ""))
        if field and hint == PERHAPS:
            return Match(guess=field)
        if field:
            return Match(field, _both(hint, hint_of(field, said)), is_exact=True)
    return _tailed(tidy(_BRACKETED.sub(" ", written)), names) or _of_parts(written, names) or Match()


def match_heading(written: str, names: HeadingNames) -> Match:
    """What a heading is taken for: known to the letter, else near to one field only, else at most a guess."""
    match = known_heading(written, names)
    if match.field or match.guess:
        return match
    if question := asked_for(written, names.fields):
        field, hint = names.fields[question]
        return Match(field, "" if hint == PERHAPS else hint)
    spelling = tidy(_BRACKETED.sub(" ", written)) or tidy(written)
    nearest = _nearest(spelling, names) if len(spelling) >= SHORTEST else []
    best = nearest[0] if nearest else _Near(0, "", "")
    runner_up = nearest[1].score if len(nearest) > 1 else 0
    if best.score >= NEAR and best.score - runner_up >= AHEAD:
        said = _BRACKETED.search(written)
        return Match(best.field, _both(best.hint, hint_of(best.field, tidy(said[1]) if said else "")))
    guess = best.field if best.score >= NEAR else _named_inside(spelling, names) or best.field
    return Match(guess="" if guess == KEPT else guess)


def _spellings(written: str) -> Iterator[tuple[str, str]]:
    """The ways to look a heading up, most literal first, each with what stands beside it in brackets."""
    yield tidy(written), ""
    plain = _NUMBERED.sub("", written.strip().removeprefix("dwc:"), count=1)
    yield tidy(plain), ""
    yield tidy(_CAMEL.sub(" ", plain)), ""
    if " " not in plain and (last := _PATH.split(plain)[-1]) != plain:
        yield tidy(_CAMEL.sub(" ", last)), ""
    if said := _BRACKETED.search(plain):
        yield tidy(_BRACKETED.sub(" ", plain)), tidy(said[1])


def _both(hint: str, beside: str | None) -> str:
    return hint if not beside or beside == hint else f"{hint} {beside}".strip()


def _tailed(spelling: str, names: HeadingNames) -> Match | None:
    """A known heading with a unit, a hemisphere or an order written after it: `Longitude W`."""
    words = spelling.split()
    for size in range(1, min(4, len(words))):
        field, hint = names.fields.get(" ".join(words[:-size]), ("", ""))
        said = hint_of(field, " ".join(words[-size:]))
        if field and hint != PERHAPS and said is not None:
            return Match(field, _both(hint, said), is_exact=True)
    return None


def _of_parts(written: str, names: HeadingNames) -> Match | None:
    """A heading in two languages, `Tag / Étiquette`: known if all its parts name one field."""
    parts = [tidy(part) for part in _APART.split(_BRACKETED.sub(" ", written)) if tidy(part)]
    fields = {names.fields.get(part, ("", "")) for part in parts}
    named = {field for field, hint in fields if hint != PERHAPS}
    if len(parts) < 2 or len(named) != 1 or not all(field for field, _ in fields):
        return None
    hints = sorted({hint for _, hint in fields if hint not in ("", PERHAPS)})
    return Match(named.pop(), " ".join(hints), is_exact=True)


def _nearest(spelling: str, names: HeadingNames) -> list[_Near]:
    """The nearest spelling of each field, nearest first.

    A slip is no other word and no other figure: *where found* is not near *when found*.
    """
    words, figures = set(spelling.split()), re.sub(r"\D", "", spelling)
    nearest: dict[str, _Near] = {}
    for other, score, _ in process.extract(spelling, names.long, scorer=fuzz.ratio, score_cutoff=GUESS, limit=None):
        field, hint = names.fields[other]
        slips = words.difference(other.split())
        fits = not slips & names.words and figures == re.sub(r"\D", "", other)
        near = _Near(score if fits else min(score, NEAR - 1), field, hint)
        if field not in nearest or near.score > nearest[field].score:
            nearest[field] = near
    return sorted(nearest.values(), key=lambda near: -near.score)


def _named_inside(spelling: str, names: HeadingNames) -> str:
    """The field of the longest known spelling that stands inside a longer heading as whole words."""
    inside = [
        known
        for known, (_, hint) in names.fields.items()
        if len(known) > 2 and hint != PERHAPS and f" {known} " in f" {spelling} "
    ]
    return names.fields[max(inside, key=len)][0] if inside else ""
