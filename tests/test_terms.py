"""Every term and every controlled word that leaves the house, held against the list of terms of 2026-05-26."""

from __future__ import annotations

import csv
import json
import re
from importlib.resources import files
from typing import Any

import pytest

from pipeline.files.schemas import words
from pipeline.files.seen_by_tables import NOT_WORDS
from pipeline.settings import Portal, SettingsWrong, read_settings
from pipeline.stages.export import LIFE_STAGES, RELATION, SEXES, VITALITIES
from tests.portal_rows import A_FIND, LISTS, batch_of, rows_of, settings_of


def table(name: str) -> list[dict[str, str]]:
    return list(csv.DictReader(files("schemas").joinpath(name).read_text(encoding="utf-8").splitlines()))


TERMS = {line["term"]: line for line in table("darwin_core_terms.csv")}
COLUMNS = table("portal_columns.csv")
MUST = {"establishmentMeans", "degreeOfEstablishment", "pathway"}  # the lists whose strings must be used


def test_the_list_of_terms_is_whole() -> None:
    """179 terms that concern us, 71 ratified words: the list of 2026-05-26 (TDWG, CC BY 4.0)."""
    assert len(TERMS) == 179 and len(table("establishment_pathway.csv")) == 71
    assert max(line["version_issued"] for line in TERMS.values()) == "2026-05-26"
    assert all(line["meaning"] for line in TERMS.values())


@pytest.mark.parametrize("line", COLUMNS, ids=[f"{line['table']} {line['column']}" for line in COLUMNS])
def test_a_column_is_a_term_with_its_own_address(line: dict[str, str]) -> None:
    assert TERMS[line["column"]]["iri"] == line["term"]


def test_no_column_is_a_class_or_stands_twice() -> None:
    names = [(line["table"], line["column"]) for line in COLUMNS]
    assert len(names) == len(set(names)) and not [name for _, name in names if name[0].isupper()]


def test_the_words_of_the_ratified_lists_are_theirs() -> None:
    assert {line["term"] for line in table("establishment_pathway.csv")} == MUST
    with pytest.raises(SettingsWrong, match="establishment_means"):
        read_settings('[portal]\nestablishment_means = "released"\n')


def test_the_defaults_are_the_words_of_the_standard() -> None:
    """Own reading of the list's examples: sex and lifeStage in small letters, vitality in camel case."""
    assert Portal().sex_words == SEXES and set(SEXES) <= examples("sex")
    assert Portal().life_stage_words == LIFE_STAGES and set(LIFE_STAGES) & examples("lifeStage") == {
        "larva", "juvenile", "adult",
    }  # fmt: skip
    assert set(VITALITIES) == examples("vitality")
    assert Portal().occurrence_status in examples("occurrenceStatus")  # the newest list's word; older ones say present
    assert RELATION == "encounter previous to"


def examples(term: str) -> set[str]:
    """The words after the colon, up to what our list says beside them."""
    return set(re.split(r"; *", re.split(r"[.(]", TERMS[term]["words"].partition(":")[2])[0].strip()))


def test_the_causes_of_death_are_the_standards_own_but_for_two() -> None:
    told = {line["value"] for line in table("vocabularies/cause_of_death.csv")}
    known = set(re.split(r"[:;] *", TERMS["causeOfDeath"]["words"]))
    assert told - known == {"predation", "cold"}
    assert set(words("cause_of_death").spellings) <= set(words("vitality").spellings) | {
        "insecticide", "sprayed", "insecticida", "old age",
    }  # fmt: skip


def test_basis_of_record_is_the_name_of_a_class() -> None:
    batch = batch_of(rows_of({}))
    assert set(batch.occurrence["basisOfRecord"]) == {"HumanObservation"}
    assert "HumanObservation" in TERMS["basisOfRecord"]["words"]


def test_the_desks_own_words_replace_ours_and_pass_the_gate() -> None:
    settings = read_settings(
        '[privacy]\nhome_unknown = "none"\n[portal]\nsex_words = ["Female", "Male"]\n'
        'life_stage_words = ["Egg", "Larva", "chrysalis", "juvenile", "Adult"]\noccurrence_status = "present"\n'
    )
    cases = ({"lifeStage": "adult"}, {"sex": "female", "lifeStage": "pupa"}, {"sex": "F?"})
    rows = rows_of(*({**case, "occurrence_id": f"urn:uuid:{place}"} for place, case in enumerate(cases)))
    told = batch_of(rows, settings)
    assert list(told.occurrence["sex"]) == ["Male", "Female", ""]
    assert list(told.occurrence["lifeStage"]) == ["Adult", "chrysalis", ""]
    assert set(told.occurrence["occurrenceStatus"]) == {"present"}
    allowed = {line["word"] for line in table("portal_words.csv")}
    assert {*settings.portal.sex_words, *settings.portal.life_stage_words} <= allowed
    gate: Any = json.loads(files("schemas").joinpath("gate_occurrence.json").read_text(encoding="utf-8"))
    asked = {each["kwargs"].get("column"): each["kwargs"].get("value_set") for each in gate["rows"]}
    assert asked["sex"]["table"] == asked["lifeStage"]["table"] == "portal_words.csv"


@pytest.mark.parametrize("words_of_desk", ['["male", "female"]', '["female"]', '["Weibchen", "Männchen"]'])
def test_words_that_the_gate_would_refuse_are_told_at_once(words_of_desk: str) -> None:
    with pytest.raises(SettingsWrong, match=r"Line 2.*portal_words\.csv"):
        read_settings(f"[portal]\nsex_words = {words_of_desk}\n")


CAUSES = {
    "roadkill": ({"vitality": "dead", "vitality_written": "roadkill"}, "vehicle collision"),
    "in French": ({"vitality": "dead", "vitality_written": "Noyée"}, "drowning"),
    "told as its condition": (
        {"vitality": "dead", "vitality_written": "dead", "condition": "in a spider's web"},
        "predation",
    ),
    "dead, and no more is known": ({"vitality": "dead", "vitality_written": "dead"}, ""),
    "alive": ({"vitality": "alive", "vitality_written": "alive", "condition": "frozen"}, ""),
    "in words of the finder's own": (
        {"vitality": "dead", "vitality_written": "dead", "condition": "Maud stepped on it"},
        "",
    ),
}


@pytest.mark.parametrize("name", CAUSES)
def test_what_a_find_had_died_of_is_told_in_words_of_a_list(name: str) -> None:
    cells, cause = CAUSES[name]
    lists = LISTS._replace(causes=words("cause_of_death").spellings)
    batch = batch_of(rows_of({}, {**A_FIND, **cells}), lists=lists)
    assert list(batch.occurrence["causeOfDeath"]) == ["", cause]


def test_a_release_dies_of_nothing() -> None:
    lists = LISTS._replace(causes=words("cause_of_death").spellings)
    batch = batch_of(rows_of({"vitality": "dead", "vitality_written": "roadkill"}), lists=lists)
    assert list(batch.occurrence["causeOfDeath"]) == [""]


def test_the_programmes_taxa_add_to_ours_and_blank_nothing() -> None:
    own = {"scientificName": "Danaus plexippus", "rank": "species", "vernacular_en": "the King", "authorship": ""}
    batch = batch_of(rows_of({}), settings_of(), lists=LISTS._replace(taxa=(*LISTS.taxa, own)))
    told = batch.occurrence.iloc[0]
    assert (told["vernacularName"], told["family"], told["scientificNameAuthorship"]) == (
        "the King", "Nymphalidae", "(Linnaeus, 1758)",
    )  # fmt: skip


def test_what_seen_by_does_not_look_at_holds_no_words() -> None:
    assert {line["column"] for line in COLUMNS} >= NOT_WORDS


# Written: eventDate, year, month, day. Darwin Core list of terms of 2026-05-26, examples of eventDate; what they tell.
WRITTEN = {
    "1809-02-12": ("1809-02-12", "1809", "2", "12"),
    "1906-06": ("1906-06", "1906", "6", ""),
    "1971": ("1971", "1971", "", ""),
    "1900/1909": ("1900/1909", "", "", ""),
    "2007-11-13/2007-11-15": ("2007-11-13/2007-11-15", "2007", "11", ""),
}


@pytest.mark.parametrize("written", WRITTEN)
def test_a_day_is_as_precise_as_it_was_written_and_no_more(written: str) -> None:
    told = batch_of(rows_of({"eventDate": written})).occurrence.iloc[0]
    assert tuple(told[["eventDate", "year", "month", "day"]]) == WRITTEN[written]


def test_countries_are_codes_of_the_standard() -> None:
    """ISO 3166-1 alpha-2: GL is one, the alpha-3 GRL is none (draft data quality tests, TDWG, rows 4 and 5)."""
    lists = LISTS._replace(countries={**LISTS.countries, "GL": "Greenland"})
    rows = rows_of(*({"countryCode": code, "occurrence_id": f"urn:uuid:{code}"} for code in ("GL", "GRL")))
    told = batch_of(rows, lists=lists).occurrence
    assert list(told["countryCode"]) == ["GL", ""] and list(told["country"]) == ["Greenland", ""]


def test_a_find_names_its_release_in_the_words_of_the_standard() -> None:
    """Examples of associatedOccurrences: "relation":"id", the relation of a recapture is "encounter previous to"."""
    cell = batch_of(rows_of({}, A_FIND)).occurrence["associatedOccurrences"].iloc[1]
    assert re.fullmatch(r'"encounter previous to":"urn:uuid:[0-9a-f-]{36}"', cell)
