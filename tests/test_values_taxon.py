"""How names of species are read. Names and authorship of schemas/taxa.csv are from memory."""

from __future__ import annotations

import csv
import io
from importlib.resources import files

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pipeline.values import taxon
from pipeline.values.text import tidy

LINES = list(csv.DictReader(io.StringIO(files("schemas").joinpath("taxa.csv").read_text(encoding="utf-8"))))
COLUMNS = ("scientificName", "vernacular_en", "vernacular_fr", "vernacular_es", "synonyms")


def names_of_the_list() -> dict[str, tuple[str, ...]]:
    names: dict[str, tuple[str, ...]] = {}
    for line in LINES:
        for written in " | ".join(line[column] for column in COLUMNS).split(" | "):
            if written:
                names[tidy(written)] = (*names.get(tidy(written), ()), line["scientificName"])
    return names


NAMES = names_of_the_list()


@pytest.mark.parametrize(
    ("text", "value"),
    [
        pytest.param("Danaus plexippus", "Danaus plexippus", id="scientific"),
        pytest.param("DANAUS  PLEXIPPUS", "Danaus plexippus", id="capitals and blanks"),
        pytest.param("D. plexippus", "Danaus plexippus", id="genus shortened"),
        pytest.param("Danaus plexippus (Linnaeus, 1758)", "Danaus plexippus", id="with its author"),
        pytest.param("Danaus plexippus L.", "Danaus plexippus", id="with a short author"),
        pytest.param("Danaus plexippus plexippus", "Danaus plexippus", id="subspecies"),
        pytest.param("monarchs", "Danaus plexippus", id="english, several"),
        pytest.param("a Monarch butterfly", "Danaus plexippus", id="english with more words"),
        pytest.param("Monarch (Danaus plexippus)", "Danaus plexippus", id="both names"),
        pytest.param("papillon monarque", "Danaus plexippus", id="french"),
        pytest.param("Mariposa Monarca", "Danaus plexippus", id="spanish"),
        pytest.param("vice-roi", "Limenitis archippus", id="french with a dash"),
        pytest.param("Danaus sp.", "Danaus", id="only the genus"),
        pytest.param("unknown", "", id="a word for nothing"),
    ],
)
def test_a_name_is_read(text: str, value: str) -> None:
    assert taxon.read(text, NAMES)[::2] == (value, "")


@pytest.mark.parametrize(
    ("text", "doubt", "first"),
    [
        pytest.param("swallowtails", "name-of-several", "Papilio canadensis", id="a name of several"),
        pytest.param("tortoiseshell", "name-of-several", "Nymphalis l-album", id="of two genera"),
        pytest.param("Queen / Monarch", "name-of-several", "Danaus gilippus", id="two names"),
        pytest.param("Monarch?", "unsure", "Danaus plexippus", id="a question mark"),
        pytest.param("Danaus cf. plexippus", "unsure", "Danaus plexippus", id="cf."),
        pytest.param("Danus plexipus", "not-in-list", "", id="misspelt is never changed"),
        pytest.param("X. plexippus", "not-in-list", "", id="another initial"),
        pytest.param("Anas platyrhynchos", "not-in-list", "", id="not in the list"),
    ],
)
def test_a_name_in_doubt_stays_as_typed(text: str, doubt: str, first: str) -> None:
    reading = taxon.read(text, NAMES)
    assert (reading.value, reading.doubt, "".join(reading.candidates[:1])) == (text, doubt, first)


def test_every_scientific_name_of_the_list_stands_for_itself() -> None:
    for line in LINES:
        assert taxon.read(line["scientificName"], NAMES) == (line["scientificName"], "", "", ())
        assert line["rank"] in ("species", "genus")
        assert line["scientificName"].startswith(line["genus"])


def test_no_synonym_belongs_to_two_species() -> None:
    synonyms = [name for line in LINES for name in line["synonyms"].split(" | ") if name]
    assert all(len(NAMES[tidy(name)]) == 1 for name in synonyms)


def test_a_word_for_nothing_that_is_a_name_of_the_list_is_that_name() -> None:
    # In one field sheet NA stood for an animal.
    assert taxon.read("NA", {**NAMES, "na": ("Nymphalis antiopa",)}).value == "Nymphalis antiopa"
    assert taxon.read("NA", NAMES).value == ""


@given(st.text(max_size=40) | st.sampled_from(sorted(NAMES)).map(lambda name: f" {name.title()} ?"))
def test_any_text_is_read_or_stays_as_typed(text: str) -> None:
    reading = taxon.read(text, NAMES)
    assert not reading.doubt or (reading.value == text.strip() and not reading.change)
    assert reading.change or reading.value == text.strip()


@given(st.sampled_from(sorted(NAMES)))
def test_a_name_of_the_list_is_always_known(name: str) -> None:
    reading = taxon.read(name.upper(), NAMES)
    assert reading.value in NAMES[name] or reading.candidates == NAMES[name]
