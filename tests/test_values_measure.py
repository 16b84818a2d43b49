"""How numbers with units are read; factors are those of NIST Special Publication 811."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pipeline.values import measure


@pytest.mark.parametrize(
    ("text", "unit", "value"),
    [
        pytest.param("51.5", "mm", "51.5", id="plain"),
        pytest.param("51.50", "mm", "51.50", id="trailing zero kept"),
        pytest.param("15,50", "mm", "15.50", id="decimal comma, seen in a field sheet"),
        pytest.param("0,512", "g", "0.512", id="decimal comma after zero"),
        pytest.param(".5", "g", "0.5", id="no digit before the point"),
        pytest.param("20 mm", "mm", "20", id="unit written, seen in a field sheet"),
        pytest.param("33g", "g", "33", id="unit without a blank, seen in a field sheet"),
        pytest.param("5.15 cm", "mm", "51.5", id="centimetres"),
        pytest.param("2 inches", "mm", "50.8", id="inches, NIST SP 811: 25.4 mm"),
        pytest.param('2"', "mm", "50.8", id="inch mark"),
        pytest.param("2 pulgadas", "mm", "50.8", id="spanish inches"),
        pytest.param("2”", "mm", "50.8", id="inch mark of a telephone"),
        pytest.param("2″", "mm", "50.8", id="double prime"),
        pytest.param("100′", "m", "30.48", id="prime, feet"),
        pytest.param("1\u202f234 m", "m", "1234", id="french thousands"),
        pytest.param("12\u00a0345", "", "12345", id="french thousands of a count"),
        pytest.param("500 mg", "g", "0.5", id="milligrams"),
        pytest.param("1 oz", "g", "28.349523125", id="ounce, NIST SP 811"),
        # source: TDWG data quality tests (draft of 2026-06-03), dataID 483
        pytest.param("100 feet", "m", "30.48", id="483 feet"),
        pytest.param("1500 ft", "m", "457.2", id="489 first of its two numbers"),
        pytest.param("30 mètres", "m", "30", id="french metres"),
        pytest.param("-5", "m", "-5", id="below the sea"),
        pytest.param("−5", "m", "-5", id="minus sign U+2212"),
        pytest.param("12", "", "12", id="a count"),
        pytest.param("n/a", "mm", "", id="a word for nothing"),
        pytest.param("aucune", "mm", "", id="a french word for nothing"),
    ],
)
def test_a_measure_is_read(text: str, unit: str, value: str) -> None:
    assert measure.read(text, "t", unit)[::2] == (value, "")


@pytest.mark.parametrize(
    ("text", "unit", "doubt", "candidates"),
    [
        pytest.param(">100", "mm", "approximate", ("100",), id="more than, seen in a field sheet"),
        pytest.param("~ 51", "mm", "approximate", ("51",), id="about"),
        pytest.param("env. 51 mm", "mm", "approximate", ("51",), id="french about"),
        pytest.param("0?", "", "approximate", ("0",), id="unsure, seen in a field sheet"),
        pytest.param("800 (?)", "", "approximate", ("800",), id="unsure in brackets, seen in a field sheet"),
        pytest.param("4 or 5", "", "two-values", (), id="one or the other, seen in a field sheet"),
        pytest.param("51/52", "mm", "two-values", (), id="both wings"),
        pytest.param("33 (3)", "", "two-values", (), id="a number in brackets, seen in a field sheet"),
        pytest.param("1500 - 2000 Ft", "m", "two-values", (), id="a range, quality tests (draft) dataID 489"),
        pytest.param("1,234", "mm", "two-values", ("1.234", "1234"), id="decimal comma or thousands"),
        pytest.param("8,600 ft", "m", "two-values", ("2.62128", "2621.28"), id="the same with a unit"),
        pytest.param("1,234 kg", "g", "two-values", (), id="the same with a unit of something else"),
        pytest.param("1 234", "", "two-values", (), id="a plain blank inside"),
        pytest.param("51\u00a052", "mm", "two-values", (), id="two numbers and a blank that does not break"),
        pytest.param(">=50", "mm", "approximate", ("50",), id="at least, in signs"),
        pytest.param("fewer than 5", "", "approximate", ("5",), id="fewer than"),
        pytest.param("50ish", "mm", "approximate", ("50",), id="ish"),
        pytest.param("P50.7", "mm", "not-a-number", (), id="a letter, seen in a field sheet"),
        pytest.param("big", "mm", "not-a-number", (), id="a word"),
        pytest.param("51 kg", "mm", "not-a-number", (), id="a unit of something else"),
        pytest.param("51 mm", "", "not-a-number", (), id="a unit where none belongs"),
        pytest.param("none", "", "not-a-number", (), id="of a count none may be 0"),
    ],
)
def test_a_measure_in_doubt_stays_as_typed(text: str, unit: str, doubt: str, candidates: tuple[str, ...]) -> None:
    assert measure.read(text, "t", unit) == (text, "", doubt, candidates)


@pytest.mark.parametrize("kind", [pytest.param(kind, id=f"kind {kind}") for kind in "dcbef"])
def test_only_texts_and_numbers_are_measures(kind: str) -> None:
    assert measure.read("2026-05-06", kind).doubt == "not-a-number"


@given(st.decimals(-9999, 9999, places=3), st.sampled_from(("mm", "g", "m")))
def test_a_written_measure_is_read_back(number: object, unit: str) -> None:
    assert measure.read(f"{number}", "n", unit).value == f"{number}"
    assert measure.read(f"{number} {unit}", "t", unit).value == f"{number}"


@given(
    st.text(max_size=30) | st.text("0123456789.,~>?-+ mgcft()/or", max_size=14),
    st.sampled_from("tndcbef-"),
    st.sampled_from(("mm", "g", "m", "")),
)
def test_any_text_is_read_or_stays_as_typed(text: str, kind: str, unit: str) -> None:
    reading = measure.read(text, kind, unit)
    assert not reading.doubt or (reading.value == text.strip() and not reading.change)
    assert reading.change or reading.value == text.strip()
    if reading.value and not reading.doubt:
        float(reading.value)
