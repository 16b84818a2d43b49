"""How tag codes are read, and how they are mistaken."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st
from stdnum.iso7064 import mod_11_2, mod_37_36

from pipeline.values import tag_code
from pipeline.values.check_character import iso7064_mod11_2, iso7064_mod37_36, orcid_fits

PATTERN = "[A-Z]{2}[0-9]{4}|[0-9][A-Z][0-9]{4}"
LETTERS_AND_DIGITS = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"


@pytest.mark.parametrize(
    ("text", "value"),
    [
        pytest.param("SM0042", "SM0042", id="as printed"),
        pytest.param(" sm 0042 ", "SM0042", id="small letters and blanks"),
        pytest.param("SM-0042", "SM0042", id="a dash"),
        pytest.param("SM–0042", "SM0042", id="a long dash"),
        pytest.param("ＳＭ００４２", "SM0042", id="full-width"),
        pytest.param("7a0042", "7A0042", id="the other shape"),
    ],
)
def test_a_code_is_read(text: str, value: str) -> None:
    reading = tag_code.read(text, "t", PATTERN)
    assert (reading.value, reading.doubt, bool(reading.change)) == (value, "", text != value)


@pytest.mark.parametrize(
    ("text", "kind", "doubt", "candidates"),
    [
        pytest.param("SM042", "t", "another-shape", (), id="a digit missing"),
        pytest.param("SMOO42", "t", "another-shape", (), id="letters for zeros are never changed"),
        pytest.param("F2546", "t", "another-shape", (), id="a digit too many, seen in a field sheet"),
        pytest.param("SM0042 (torn)", "t", "another-shape", ("SM0042",), id="a note behind"),
        pytest.param("SM0042, SM0043", "t", "several-codes", ("SM0042", "SM0043"), id="two codes"),
        pytest.param("SM0042 et SM0043", "t", "several-codes", ("SM0042", "SM0043"), id="two codes in french"),
        pytest.param("SM0042\nSM0043", "t", "several-codes", ("SM0042", "SM0043"), id="two lines"),
        pytest.param("SM0042 - SM0045", "t", "range-of-codes", ("SM0042", "SM0045"), id="a range"),
        pytest.param("SM0042-45", "t", "range-of-codes", ("SM0042", "SM0045"), id="a range, its end in short"),
        pytest.param(
            "SM0101 to SM0125, 12 M 13 F", "t", "range-of-codes", ("SM0101", "SM0125"), id="a block with counts"
        ),
        pytest.param("SM0125-SM0101", "t", "another-shape", (), id="a range the wrong way round"),
        pytest.param("SM0042 fell off, now SM0043", "t", "re-tagged", ("SM0043",), id="one in the other's place"),
        pytest.param("0042 fell off, now 0043", "t", "re-tagged", (), id="one in the other's place, letters left off"),
        pytest.param('"SM0042"', "t", "another-shape", ("SM0042",), id="in quotes"),
        pytest.param("Tag SM0042.", "t", "another-shape", ("SM0042",), id="in a sentence"),
        pytest.param("SM0042?", "t", "another-shape", ("SM0042",), id="a question mark behind"),
        pytest.param("lost", "t", "not-a-code", (), id="lost"),
        pytest.param("No #", "t", "not-a-code", (), id="no number, seen in a field sheet"),
        pytest.param("RIP", "t", "not-a-code", (), id="a word, seen in a field sheet"),
        pytest.param("n/a", "t", "not-a-code", (), id="a word for nothing is no blank"),
        pytest.param("#N/A", "e", "not-a-code", (), id="an error value of the spreadsheet"),
        pytest.param("2026-09-02", "d", "became-a-day", (), id="a true date"),
        pytest.param("2-Sep", "t", "became-a-day", (), id="a date as text"),
        pytest.param("42", "n", "became-a-number", (), id="a number"),
        pytest.param("1.00E+42", "t", "became-a-number", (), id="a power of ten as text"),
    ],
)
def test_a_code_in_doubt_stays_as_typed(text: str, kind: str, doubt: str, candidates: tuple[str, ...]) -> None:
    assert tag_code.read(text, kind, PATTERN) == (text, "", doubt, candidates)


def test_a_code_that_fits_is_never_taken_for_damage() -> None:
    assert tag_code.read("123456", "n", "[0-9]{6}").value == "123456"
    assert tag_code.read("MAR-12", "t", "[A-Z]{3}-[0-9]{2}").value == "MAR-12"
    assert tag_code.read("mar 12", "t", "[a-z]{3}[0-9]{2}").value == "mar12"
    assert tag_code.read("1E0042", "t", PATTERN).value == "1E0042"


@pytest.mark.parametrize(
    ("text", "system", "value", "doubt"),
    [
        pytest.param("0794-0", "iso7064-mod11-2", "0794", "", id="fits"),
        pytest.param("07941", "iso7064-mod11-2", "07941", "check-character", id="does not fit"),
        pytest.param("0794", "iso7064-mod11-2", "0794", "check-character", id="is missing"),
        pytest.param("794", "iso7064-mod11-2", "794", "another-shape", id="another shape"),
        pytest.param("079x", "iso7064-mod37-36", "079x", "another-shape", id="no code at all"),
    ],
)
def test_a_check_character_follows_the_code(text: str, system: str, value: str, doubt: str) -> None:
    reading = tag_code.read(text, "t", "[0-9]{4}", system)
    assert (reading.value, reading.doubt) == (value, doubt)


# python-stdnum 2.2, its documented examples; ISO 7064 values recomputed there and here
@pytest.mark.parametrize(
    ("code", "check"),
    [
        pytest.param("0794", "0", id="0794"),
        pytest.param("079", "X", id="079, the X case"),
        # source: "Darwin Core list of terms 2026-05-26, examples of recordedByID"
        pytest.param("000000021825009", "7", id="the digits of an ORCID"),
    ],
)
def test_mod_11_2_gives_the_published_check_character(code: str, check: str) -> None:
    assert iso7064_mod11_2(code) == check


def test_mod_37_36_gives_the_published_check_character() -> None:
    # python-stdnum 2.2 example, also on a vendor's manual page
    assert iso7064_mod37_36("A12425GABC1234002") == "M"


def test_an_orcid_fits_or_not() -> None:
    # Darwin Core list of terms 2026-05-26, examples of recordedByID; the second id of its list does not fit
    assert orcid_fits("0000-0002-1825-0097")
    assert orcid_fits("https://orcid.org/0000-0002-1825-0097")
    assert not orcid_fits("0000-0002-1825-0098")
    assert not orcid_fits("Anna")


def test_a_word_for_nothing_that_has_the_shape_of_a_code_is_one() -> None:
    assert tag_code.read("NA", "t", "[A-Z]{2}") == ("NA", "", "", ())
    assert tag_code.read("na", "t", "[A-Z]{2}").doubt == tag_code.read("NA", "t", "[A-Z]{3}").doubt == "not-a-code"


@given(st.text(LETTERS_AND_DIGITS, min_size=1, max_size=20))
def test_mod_37_36_agrees_with_python_stdnum(code: str) -> None:
    assert mod_37_36.validate(code + iso7064_mod37_36(code))


@given(st.text("0123456789", min_size=1, max_size=20))
def test_mod_11_2_agrees_with_python_stdnum(digits: str) -> None:
    assert mod_11_2.validate(digits + iso7064_mod11_2(digits))


@given(st.text("0123456789", min_size=4, max_size=4), st.data())
def test_a_single_slip_is_caught_by_the_check_character(code: str, data: st.DataObject) -> None:
    whole = code + iso7064_mod11_2(code)
    place = data.draw(st.integers(0, 3))
    slip = data.draw(st.sampled_from(sorted(set("0123456789") - {whole[place]})))
    wrong = whole[:place] + slip + whole[place + 1 :]
    assert tag_code.read(wrong, "t", "[0-9]{4}", "iso7064-mod11-2").doubt == "check-character"


@pytest.mark.parametrize(
    ("first", "last", "codes"),
    [
        pytest.param("SM0098", "SM0101", ["SM0098", "SM0099", "SM0100", "SM0101"], id="over a hundred"),
        pytest.param("7A0009", "7A0010", ["7A0009", "7A0010"], id="digits in front stay"),
        pytest.param("A1B", "A3B", ["A1B", "A2B", "A3B"], id="a letter behind"),
        pytest.param("99", "101", ["99", "100", "101"], id="without zeros in front"),
        pytest.param("SM0042", "SM0042", ["SM0042"], id="one"),
    ],
)
def test_a_range_counts_up_its_last_digits(first: str, last: str, codes: list[str]) -> None:
    assert list(tag_code.codes_between(first, last)) == codes


@pytest.mark.parametrize(
    ("first", "last"),
    [
        pytest.param("SM0042", "SN0045", id="other letters"),
        pytest.param("SM0042", "SM0041", id="backwards"),
        pytest.param("SM", "SN", id="no digits"),
    ],
)
def test_two_codes_that_make_no_range_are_refused(first: str, last: str) -> None:
    with pytest.raises(ValueError, match="do not make a range"):
        list(tag_code.codes_between(first, last))


@pytest.mark.parametrize(
    ("code", "cells"),
    [
        pytest.param("SM0042", set(), id="a safe code"),
        pytest.param("00123", {("n", "123")}, id="zeros in front"),
        pytest.param("12345", set(), id="a number stays a number"),
        pytest.param("SEPT2", {("d", "2026-09-02")}, id="a month and a day, Ziemann et al. 2016"),
        pytest.param("MAR-32", {("d", "1932-03-01")}, id="a month and a year of two digits"),
        pytest.param("MAR2012", {("d", "2012-03-01")}, id="a month and a year"),
        pytest.param("VII12", set(), id="roman numbers are no months there"),
        pytest.param("5-6", {("d", "2026-05-06"), ("d", "2026-06-05")}, id="two numbers, seen in a field sheet"),
        pytest.param("31-6", set(), id="no such day"),
    ],
)
def test_what_a_spreadsheet_makes_of_a_code(code: str, cells: set[tuple[str, str]]) -> None:
    assert tag_code.as_spreadsheet_would(code) == cells


def test_a_spreadsheet_takes_an_e_for_a_power_of_ten() -> None:
    # Ziemann, Eren, El-Osta 2016: 2310009E13 becomes 2.31E+19
    assert ("t", "2.31E+19") in tag_code.as_spreadsheet_would("2310009E13")
    assert ("n", "70000") in tag_code.as_spreadsheet_would("7E0004")
    assert tag_code.as_spreadsheet_would("7E9999") == set()


@given(st.from_regex(PATTERN, fullmatch=True), st.sampled_from((" ", "-", "", "  ")))
def test_a_written_code_is_read_back(code: str, between: str) -> None:
    written = f" {code[:2]}{between}{code[2:]} ".lower()
    assert tag_code.read(written, "t", PATTERN).value == code


@given(st.text(LETTERS_AND_DIGITS, min_size=1, max_size=8))
def test_look_alikes_look_back(code: str) -> None:
    assert all(code in tag_code.look_alikes(other) for other in list(tag_code.look_alikes(code))[:20])


@given(st.text(LETTERS_AND_DIGITS, min_size=2, max_size=8), st.data())
def test_one_slip_is_found(code: str, data: st.DataObject) -> None:
    place = data.draw(st.integers(0, len(code) - 1))
    assert tag_code.one_slip_away(code[:place] + code[place + 1 :], {code}) == {code}
    assert tag_code.one_slip_away(code, {code}) == set()


@given(st.text(max_size=30) | st.text("SMsm0123456789 -E+./,", max_size=16), st.sampled_from("tndcbef-"))
def test_any_text_is_read_or_stays_as_typed(text: str, kind: str) -> None:
    for system in ("none", "iso7064-mod37-36", "iso7064-mod11-2"):
        reading = tag_code.read(text, kind, PATTERN, system)
        assert not reading.doubt or (reading.value == text.strip() and not reading.change)
        assert reading.change or reading.value == text.strip()
        assert reading.doubt or not reading.value or re.fullmatch(PATTERN, reading.value)
    tag_code.as_spreadsheet_would(text)
    tag_code.look_alikes(text)
