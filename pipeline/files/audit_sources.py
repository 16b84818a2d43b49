"""The lists, bounds and maps that the tests of the audit compare with, read from `schemas/`."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from pipeline.audit.names import known_names
from pipeline.audit.sources import Sources
from pipeline.audit.word_lists import spellings_of
from pipeline.files.audit_names import countries, country_codes, country_names, states
from pipeline.files.datums import datum_codes, is_datum, largest_shift
from pipeline.files.middles import half_width_km, km_from_centre
from pipeline.files.schemas import table
from pipeline.files.standing import country_here, country_standing, on_land_of, state_standing


def audit_sources(today: date) -> Sources:
    """Everything that we carry, for a run on this day."""
    return Sources(
        today=today,
        country_codes=country_codes(),
        countries=countries(),
        country_names=country_names(),
        states=states(),
        words=_words(),
        spellings=spellings_of(_spellings()),
        taxa=known_names(table("taxa.csv")),
        is_datum=is_datum,
        datum_codes=datum_codes(),
        largest_shift=largest_shift,
        country_standing=country_standing,
        state_standing=state_standing,
        country_here=country_here,
        on_land_of=on_land_of,
        km_from_centre=km_from_centre,
        half_width_km=half_width_km(),
    )


RATIFIED = "establishment_pathway.csv"  # establishmentMeans, degreeOfEstablishment and pathway
OTHERS = "vocabularies/audit_words.csv"  # its rows on the terms of RATIFIED add spellings only


def _words() -> dict[str, tuple[str, ...]]:
    rows = [(line["term"], line["value"]) for line in table(RATIFIED)]
    ratified = {term for term, _ in rows}
    rows += [(line["term"], line["word"]) for line in table(OTHERS) if line["term"] not in ratified]
    return {term: tuple(word for of, word in rows if of == term) for term in dict(rows)}


def _spellings() -> Iterator[tuple[str, str, str]]:
    for line in table(RATIFIED):
        yield from ((line["term"], spelling, line["value"]) for spelling in (line["value"], line["iri"]))
    for line in table(OTHERS):
        for spelling in filter(None, (line["word"], line["iri"], *line["also"].split(" | "))):
            yield line["term"], spelling, line["word"]
    for line in table("vocabularies/sex.csv"):
        if line["value"] in ("female", "male"):
            yield "sex", line["written"], line["value"].capitalize()
