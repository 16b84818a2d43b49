"""How words of a list are read, and that the lists agree with what they promise."""

from __future__ import annotations

import csv
import io
from importlib.resources import files

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pipeline.values import choice
from pipeline.values.text import BLANK_WORDS, is_blank_word, tidy

LISTS = {
    "sex": {"female", "male", ""},
    "origin": {"wild", "reared", "bred", "bought"},
    "life_stage": {"egg", "larva", "pupa", "adult"},
    "vitality": {"alive", "dead"},
    "record_kind": {"release", "find"},
    "wing_side": {"left", "right", "both"},
    "tag_wing": {
        "left hindwing", "right hindwing", "left forewing", "right forewing",
        "hindwing", "forewing", "left wing", "right wing",
    },
    "tag_fate": {"released", "lost", "spoiled", "not used"},
}  # fmt: skip


def table(name: str) -> list[dict[str, str]]:
    text = files("schemas").joinpath(f"vocabularies/{name}.csv").read_text(encoding="utf-8")
    return list(csv.DictReader(io.StringIO(text)))


def words(name: str) -> choice.Words:
    lines = table(name)
    spellings = {tidy(line["written"]): line["value"] for line in lines if line["value"] != "?"}
    return choice.Words(spellings, frozenset(tidy(line["written"]) for line in lines if line["value"] == "?"))


@pytest.mark.parametrize(
    ("name", "text", "value"),
    [
        pytest.param("sex", "♀", "female", id="sign of Venus"),
        pytest.param("sex", "♂️", "male", id="sign of Mars drawn in colour"),
        pytest.param("sex", "Mâle", "male", id="french with accent"),
        pytest.param("sex", "MALE ", "male", id="capitals and a blank"),
        pytest.param("sex", "hembra", "female", id="spanish"),
        pytest.param("sex", "Femelle / Female", "female", id="the pick list of a form in two languages"),
        pytest.param("sex", "Mâle/Male", "male", id="the same word but for its accent"),
        pytest.param("sex", "female (♀)", "female", id="a word and its sign"),
        pytest.param("record_kind", "Lâcher - Release", "release", id="a dash between two languages"),
        pytest.param("sex", "n/a", "", id="a word for nothing"),
        pytest.param("sex", "?", "", id="a sign for nothing"),
        pytest.param("origin", "Élevé à partir d’une chenille", "reared", id="reared in french"),
        pytest.param("origin", "captive bred", "bred", id="bred"),
        pytest.param("origin", "criada", "reared", id="reared in spanish"),
        pytest.param("life_stage", "Chrysalide", "pupa", id="pupa in french"),
        pytest.param("vitality", "trouvé mort", "dead", id="dead in french"),
        pytest.param("record_kind", "Hallazgo", "find", id="find in spanish"),
        pytest.param("tag_wing", "LHW", "left hindwing", id="short for the wing"),
        pytest.param("tag_fate", "non utilisée", "not used", id="not used in french"),
    ],
)
def test_a_word_of_a_list_is_read(name: str, text: str, value: str) -> None:
    assert choice.read(text, words(name))[::2] == (value, "")


@pytest.mark.parametrize(
    ("text", "doubt", "candidates"),
    [
        pytest.param("F?", "unsure", ("female",), id="a question mark behind, seen in field sheets"),
        pytest.param("?M", "unsure", ("male",), id="a question mark in front"),
        pytest.param("female (?)", "unsure", ("female",), id="in brackets"),
        pytest.param("probably male", "unsure", ("male",), id="in words"),
        pytest.param("peut-être femelle", "unsure", ("female",), id="in french words"),
        pytest.param("H", "two-languages", (), id="hembra or homme"),
        pytest.param("1", "two-languages", (), id="a number without its key, seen in field sheets"),
        pytest.param("femmale", "not-in-list", (), id="misspelt"),
        pytest.param("M/iris", "unsure", ("male",), id="a method inside, seen in field sheets"),
        pytest.param("F(BP)", "unsure", ("female",), id="a method in brackets, seen in field sheets"),
        pytest.param("M/F", "not-in-list", (), id="one or the other"),
        pytest.param("M F", "not-in-list", (), id="both"),
        pytest.param("M/M", "not-in-list", (), id="two of them"),
        pytest.param("Femelle / Male", "not-in-list", (), id="two languages that disagree"),
        pytest.param("Femelle / Female ?", "not-in-list", (), id="a doubt behind two languages"),
        pytest.param("#N/A", "not-in-list", (), id="an error value of the spreadsheet"),
    ],
)
def test_a_word_in_doubt_stays_as_typed(text: str, doubt: str, candidates: tuple[str, ...]) -> None:
    assert choice.read(text, words("sex")) == (text, "", doubt, candidates)


@pytest.mark.parametrize("name", LISTS)
def test_a_list_holds_its_values_and_no_word_twice(name: str) -> None:
    lines = table(name)
    assert {line["value"] for line in lines} - {"?"} == LISTS[name]
    spellings = [tidy(line["written"]) for line in lines]
    assert all(spellings) and len(spellings) == len(set(spellings))
    assert {line["language"] for line in lines} <= {"", "en", "fr", "es"}


@pytest.mark.parametrize("name", LISTS)
def test_every_value_stands_for_itself(name: str) -> None:
    assert all(choice.read(value, words(name)) == (value, "", "", ()) for value in LISTS[name])


def test_the_list_of_words_for_nothing_is_the_one_that_readers_know() -> None:
    written = [line["written"] for line in table("missing_words")]
    assert all(map(is_blank_word, written))
    assert {tidy(word).replace(" ", "") for word in written} - {""} == BLANK_WORDS


def test_every_country_of_the_standard_has_its_names() -> None:
    known = {tidy(line["written"]): line["code"] for line in table("countries")}
    names = (
        "CA",
        "can",
        "Kanada",
        "MEX",
        "Mexique",
        "México",
        "U.S.A.",
        "États-Unis",
        "EE. UU.",
        "Estados Unidos",
    )
    assert [known.get(tidy(name)) for name in names] == [
        "CA",
        "CA",
        None,
        "MX",
        "MX",
        "MX",
        "US",
        "US",
        "US",
        "US",
    ]
    assert len(set(known.values())) == 249  # officially assigned codes of ISO 3166-1
    # source: TDWG data quality tests (draft of 2026-06-03), dataID 243 and 244
    assert (known.get(tidy("Australia")), known.get(tidy("Aust."))) == ("AU", None)


def test_every_state_of_the_three_countries_has_its_names() -> None:
    lines = table("states")
    codes = {line["code"] for line in lines}
    # ISO 3166-2: 13 provinces and territories; 50 states, a district, 5 outlying areas; 32 states
    assert [sum(code.startswith(country) for code in codes) for country in ("CA", "US", "MX")] == [13, 56, 32]
    known = {(tidy(line["written"]), line["country"]): line["name"] for line in lines}
    assert known["n b", "CA"] == known["nouveau brunswick", "CA"] == "New Brunswick"
    assert known["quebec", "CA"] == known["que", "CA"] == "Quebec"
    assert known["michoacan", "MX"] == known["mich", "MX"] == "Michoacán"
    assert known["mich", "US"] == "Michigan"
    # A bare "Distrito Federal" was Mexico's until 2016: Brazil's is known by its longer names only.
    assert {line["code"] for line in lines if (tidy(line["name"]), line["country"]) not in known} == {"BR-DF"}


@given(st.text(max_size=30) | st.sampled_from(sorted(words("sex").spellings)).map(lambda word: f" {word.upper()}?"))
def test_any_text_is_read_or_stays_as_typed(text: str) -> None:
    reading = choice.read(text, words("sex"))
    assert reading.value in ("male", "female", "") if not reading.doubt else reading.value == text.strip()
    assert reading.change or reading.value == text.strip()
