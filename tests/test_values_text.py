"""How free text is read, tidied and repaired."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pipeline.values import text


@pytest.mark.parametrize(
    ("typed", "value"),
    [
        pytest.param("  Marsh Road ", "Marsh Road", id="outer blanks"),
        pytest.param("by the  gate", "by the  gate", id="inner blanks stay"),
        pytest.param("line 1\r\nline 2", "line 1\nline 2", id="line breaks stay"),
        pytest.param("a_x000D_\nb", "a\nb", id="a carriage return that a workbook spelled out"),
        pytest.param("_x0041_", "_x0041_", id="other spelled-out signs stay"),
        pytest.param("zero\u200bwidth\ufeff", "zerowidth", id="signs without width"),
        pytest.param("e\u0301te\u0301", "été", id="accents put on their letters"),
        pytest.param("=1+1", "=1+1", id="looks like a formula"),
        pytest.param("n/a", "n/a", id="a word for nothing stays"),
    ],
)
def test_free_text_is_kept(typed: str, value: str) -> None:
    assert text.read(typed)[::2] == (value, "")


@pytest.mark.parametrize(
    ("typed", "tidied"),
    [
        pytest.param("Date de  Lâcher (j/m/a)", "date de lacher j m a", id="accents and punctuation"),
        pytest.param("Tag_No.", "tag no", id="underscore and point"),
        pytest.param("Nº d’étiquette", "no d etiquette", id="ordinal and apostrophe"),
        pytest.param("Œuf", "oeuf", id="joined letters"),
        pytest.param("♀︎", "♀", id="sign of Venus with its variant"),
        pytest.param("Ａ１", "a1", id="full-width"),
        pytest.param("İstanbul", "istanbul", id="a capital with a dot of its own"),
        pytest.param("---", "", id="only signs"),
        pytest.param("0:_0", "0 0", id="signs and an underscore are one blank"),
    ],
)
def test_a_word_is_tidied(typed: str, tidied: str) -> None:
    assert text.tidy(typed) == tidied


@pytest.mark.parametrize("typed", ["NA", "n/a", "N.A.", "-", " – "[1], "?", "unknown", "Inconnue", "sin dato", "NULL"])
def test_a_word_for_nothing_is_known(typed: str) -> None:
    assert text.is_blank_word(typed)


@pytest.mark.parametrize("typed", ["", " ", "0", "no", "non", "F?", "#N/A", "nada que ver", "Nana", "-5"])
def test_other_words_are_no_words_for_nothing(typed: str) -> None:
    assert not text.is_blank_word(typed)


@pytest.mark.parametrize("word", ["Québec", "Île-aux-Foins", "Michoacán", "lâché près de l’étang", "Señora Peña"])
def test_a_word_read_with_the_wrong_alphabet_is_repaired(word: str) -> None:
    for wrong in ("cp1252", "latin-1"):
        garbled = word.encode().decode(wrong, errors="replace")
        assert text.looks_garbled(garbled)
        assert "\ufffd" in garbled or text.repaired(garbled) == word
    assert not text.looks_garbled(word)
    assert text.repaired(word) == word


def test_a_word_garbled_twice_is_repaired() -> None:
    assert text.repaired("Québec".encode().decode("cp1252").encode().decode("cp1252")) == "Québec"


def test_what_is_lost_is_seen_and_stays() -> None:
    assert text.looks_garbled("Qu\ufffdbec")
    assert text.repaired("Qu\ufffdbec") == "Qu\ufffdbec"


@given(st.text(max_size=40))
def test_any_text_can_be_read(typed: str) -> None:
    reading = text.read(typed)
    assert text.read(reading.value).value == reading.value
    assert reading.change or reading.value == typed.strip()
    text.looks_garbled(text.repaired(typed))
    text.is_blank_word(typed)


@given(st.text(max_size=40))
def test_tidying_again_changes_nothing(typed: str) -> None:
    assert text.tidy(text.tidy(typed)) == text.tidy(typed)
