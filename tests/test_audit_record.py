"""Words, licences, ids and names in the audit, beside the examples that stand with each test.

Sources: TDWG, Biodiversity Data Quality, draft for review of 2026-06-03 (CC BY 4.0), called BDQ, with the number of the
row of its validation data; Darwin Core list of terms of 2026-05-26 (CC BY 4.0). The rest is invented.
"""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import date

import pytest

from pipeline.audit.all_tests import Entry, all_tests
from pipeline.audit.audit import audited
from pipeline.audit.audit_test import Response
from pipeline.audit.columns import column
from pipeline.audit.names import KnownNames, found, known_names
from pipeline.audit.sources import Sources
from pipeline.audit.word_lists import loosely
from pipeline.files.audit_sources import audit_sources

TESTS = {entry.test.label: entry for entry in all_tests()}
SOURCES = audit_sources(date(2026, 11, 25))
WORD_TERMS = {
    "type": "DCTYPE",
    "license": "LICENSE",
    **{term: term.upper() for term in ("basisOfRecord", "occurrenceStatus", "sex", "taxonRank", "establishmentMeans",
                                       "degreeOfEstablishment", "pathway")},
}  # fmt: skip
CC = "https://creativecommons.org"


def said(label: str, *values: str, sources: Sources = SOURCES) -> Response:
    entry = TESTS[label]
    return entry.responds(*values, **{name: getattr(sources, name) for name in entry.test.parameters})


def proposal(label: str, value: str) -> str:
    response = said(label, value)
    return next(iter(json.loads(response.result).values())) if response.result else ""


@pytest.mark.parametrize(
    ("label", "value", "expected"),
    [
        pytest.param("AMENDMENT_SEX_STANDARDIZED", "f", "Female", id="BDQ 1255"),
        pytest.param("AMENDMENT_SEX_STANDARDIZED", "indet.", "Indeterminate", id="BDQ 1256"),
        pytest.param("AMENDMENT_LICENSE_STANDARDIZED", "CC0", f"{CC}/publicdomain/zero/1.0/legalcode", id="BDQ 1062"),
        pytest.param("AMENDMENT_OCCURRENCESTATUS_STANDARDIZED", "detected", "", id="Darwin Core's own: detected"),
        pytest.param("AMENDMENT_OCCURRENCESTATUS_STANDARDIZED", "notDetected", "", id="Darwin Core's own: notDetected"),
        pytest.param("AMENDMENT_SEX_STANDARDIZED", "female", "Female", id="Darwin Core's own: female"),
        pytest.param("AMENDMENT_SEX_STANDARDIZED", "male", "Male", id="Darwin Core's own: male"),
        pytest.param("AMENDMENT_SEX_STANDARDIZED", "hermaphrodite", "", id="Darwin Core's own: hermaphrodite"),
        (
            "AMENDMENT_LICENSE_STANDARDIZED",
            "www.creativecommons.org/licenses/by/4.0",
            f"{CC}/licenses/by/4.0/legalcode",
        ),
        ("AMENDMENT_LICENSE_STANDARDIZED", f"{CC}/licenses/by/4.0/deed.xx", f"{CC}/licenses/by/4.0/legalcode"),
        ("AMENDMENT_LICENSE_STANDARDIZED", f"{CC}/licenses/by-nc/4.0", f"{CC}/licenses/by-nc/4.0/legalcode"),
        ("AMENDMENT_LICENSE_STANDARDIZED", f"{CC}/licenses/by/4.0/ ", f"{CC}/licenses/by/4.0/legalcode"),
        ("AMENDMENT_LICENSE_STANDARDIZED", f"{CC}/licenses/by/3.0/", ""),
        ("AMENDMENT_LICENSE_STANDARDIZED", "CC BY 4.0 or CC0", ""),
        ("AMENDMENT_SEX_STANDARDIZED", "m/f", ""),
        ("AMENDMENT_DCTYPE_STANDARDIZED", "x" * 5000, ""),
    ],
)
def test_a_better_word_is_proposed_only_where_one_can_be_meant(label: str, value: str, expected: str) -> None:
    assert proposal(label, value) == expected


@pytest.mark.parametrize("term", WORD_TERMS)
def test_what_is_proposed_is_content_with_its_own_list_and_what_is_content_is_left_alone(term: str) -> None:
    validation, amendment = (f"{kind}_{WORD_TERMS[term]}_STANDARD" for kind in ("VALIDATION", "AMENDMENT"))
    amendment += "IZED"
    assert SOURCES.words[term] and SOURCES.spellings[term]
    for word in SOURCES.words[term]:
        assert said(validation, word).result == "COMPLIANT"
        assert said(amendment, word).status == "NOT_AMENDED"
        assert said(validation, word + "\u00a0").result == said(validation, "\t" + word).result == "NOT_COMPLIANT"
    for spelling in SOURCES.spellings[term]:
        if better := proposal(amendment, spelling):
            assert said(validation, better).result == "COMPLIANT"


@pytest.mark.parametrize("term", sorted(set(WORD_TERMS) - {"license"}))
def test_every_word_is_proposed_for_itself_in_other_dress(term: str) -> None:
    for word in SOURCES.words[term]:
        for dressed in (f" {word}", f"{word}\u00a0", f"_{word}_"):
            assert proposal(f"AMENDMENT_{WORD_TERMS[term]}_STANDARDIZED", dressed) == word


@pytest.mark.parametrize(
    "entry",
    [pytest.param(one, id=one.test.label) for one in all_tests() if {"words", "taxa"} & set(one.test.parameters)],
)
def test_without_its_list_a_test_says_that_the_list_is_missing(entry: Entry) -> None:
    nothing = replace(SOURCES, words={}, spellings={}, taxa=KnownNames())
    values = ["Danaus"] * (len(entry.test.acted_upon) + len(entry.test.consulted))
    response = said(entry.test.label, *values, sources=nothing)
    assert response.status == "EXTERNAL_PREREQUISITES_NOT_MET" and response.comment


def test_spellings_compare_without_what_nobody_means_by_them_but_a_doubt_stays() -> None:
    assert loosely("\u200bStill-Image.") == loosely("still_image") == "stillimage"
    assert loosely("f?") != loosely("f")


def test_a_name_that_is_somebodys_synonym_and_a_taxon_itself_is_the_taxon() -> None:
    row = dict.fromkeys(("vernacular_en", "vernacular_fr", "vernacular_es", "authorship", "synonyms"), "")
    row |= {
        "rank": "species",
        "kingdom": "Animalia",
        "phylum": "Arthropoda",
        "class": "Insecta",
        "order": "Lepidoptera",
    }
    row |= {"family": "Nymphalidae", "genus": "Idea"}
    taxa = known_names([
        row | {"scientificName": "Idea una", "synonyms": "Idea altera"},
        row | {"scientificName": "Idea altera"},
    ])  # fmt: skip
    assert taxa.names["Idea altera"].taxon == "Idea altera"
    assert found("Idea altera", taxa).result == "COMPLIANT"


def test_every_name_that_we_carry_is_found_and_its_groups_agree() -> None:
    for name in SOURCES.taxa.names.values():
        assert said("VALIDATION_SCIENTIFICNAME_FOUND", name.name).result == "COMPLIANT"
        if name.authorship:
            assert said("VALIDATION_SCIENTIFICNAME_FOUND", f"{name.name} {name.authorship}").result == "COMPLIANT"
    terms = TESTS["VALIDATION_CLASSIFICATION_CONSISTENT"].test.acted_upon
    for (rank, group), above in SOURCES.taxa.above.items():
        groups = {**above, rank: group}
        response = said("VALIDATION_CLASSIFICATION_CONSISTENT", *(groups.get(term, "") for term in terms))
        assert response.result == "COMPLIANT"


def test_a_name_of_plants_is_not_held_against_a_butterfly_of_the_same_genus() -> None:
    terms = TESTS["VALIDATION_CLASSIFICATION_CONSISTENT"].test.acted_upon
    for groups in ({"genus": "Pieris", "family": "Ericaceae"}, {"genus": "Pieris", "kingdom": "Plantae"}):
        response = said("VALIDATION_CLASSIFICATION_CONSISTENT", *(groups.get(term, "") for term in terms))
        assert response.status == "EXTERNAL_PREREQUISITES_NOT_MET"


def test_the_three_counts_of_a_record_add_up_to_all_validations() -> None:
    table = {
        "occurrenceID": ["ATL:2026:0042", ""],
        "scientificName": ["Danaus plexippus", "\t"],
        "sex": ["f", ""],
        "basisOfRecord": ["HumanObservation", ""],
    }
    answers = audited({term: column(values) for term, values in table.items()}, 2, SOURCES)
    validations = sum(one.entry.test.kind == "Validation" for one in answers)
    for record in (0, 1):
        numbers = {
            one.entry.test.label: int(one.responses.values[one.responses.places[record]].result)
            for one in answers
            if one.entry.subject == "counts"
        }
        assert numbers.pop("MEASURE_AMENDMENTS_PROPOSED") >= 1
        assert sum(numbers.values()) == validations
