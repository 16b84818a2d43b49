"""How times of day are read. The forms are common practice; no source."""

from __future__ import annotations

import datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pipeline.values import clock


@pytest.mark.parametrize(
    ("text", "value"),
    [
        pytest.param("14:05", "14:05", id="as it should be"),
        pytest.param("14:05:06", "14:05:06", id="with seconds"),
        pytest.param("2:30", "02:30", id="without am or pm as written"),
        pytest.param("2:30 pm", "14:30", id="pm"),
        pytest.param("2.30 p.m.", "14:30", id="pm with points"),
        pytest.param("14:30 pm", "14:30", id="pm that says it twice"),
        pytest.param("12:30 am", "00:30", id="half past midnight"),
        pytest.param("12 pm", "12:00", id="noon in numbers"),
        pytest.param("9 am", "09:00", id="a whole hour"),
        pytest.param("14h05", "14:05", id="french"),
        pytest.param("14 h 5", "", id="one digit of minutes"),
        pytest.param("14h", "14:00", id="french whole hour"),
        pytest.param("615", "06:15", id="three digits, seen in a field sheet"),
        pytest.param("0615", "06:15", id="four digits, seen in a field sheet"),
        pytest.param("midi", "12:00", id="noon in french"),
        pytest.param("mediodía", "12:00", id="noon in spanish"),
        pytest.param("2:30 PM ADT", "14:30", id="the local zone"),
        pytest.param("14:05/15:00", "14:05/15:00", id="a span"),
        pytest.param("2-3:30 pm", "14:00/15:30", id="one pm for both"),
        pytest.param("11-2 pm", "11:00/14:00", id="from before noon"),
        pytest.param("de 14h à 15h", "14:00/15:00", id="a french span"),
        pytest.param("entre 14h et 15h", "14:00/15:00", id="between, in french"),
        pytest.param("between 2 and 3 pm", "14:00/15:00", id="between, one pm for both"),
        pytest.param("2:30 de la tarde", "14:30", id="the half of the day in spanish words"),
        pytest.param("8h du soir", "20:00", id="the half of the day in french words"),
        pytest.param("9 in the morning", "09:00", id="the half of the day in english words"),
        pytest.param("9 de la noche", "", id="a night that may be either"),
        pytest.param("24:00", "", id="no such hour"),
        pytest.param("14:60", "", id="no such minute"),
        pytest.param("13:30 am", "", id="am after noon"),
        pytest.param("5:48; 8:28", "", id="two times, seen in a field sheet"),
        pytest.param("14:05Z", "", id="another zone's time"),
        pytest.param("14", "", id="a bare number"),
        pytest.param("around two", "", id="words"),
    ],
)
def test_a_time_is_read_or_stays_as_typed(text: str, value: str) -> None:
    reading = clock.read(text, "t")
    assert (reading.value, reading.doubt) == ((value, "") if value else (text, "not-a-time"))


@pytest.mark.parametrize(
    ("text", "candidate"),
    [
        pytest.param("~14:00", "14:00", id="a wave"),
        pytest.param("ca. 14:00", "14:00", id="circa"),
        pytest.param("vers 14h", "14:00", id="about, in french"),
        pytest.param("hacia las 14:30", "14:30", id="about, in spanish"),
        pytest.param("2:30 pm (approx.)", "14:30", id="in brackets"),
        pytest.param("14:05?", "14:05", id="a question mark"),
        pytest.param("around 2-3 pm", "14:00/15:00", id="about a span"),
    ],
)
def test_a_time_that_its_writer_was_not_sure_of_stays_as_typed(text: str, candidate: str) -> None:
    assert clock.read(text, "t") == (text, "", "unsure", (candidate,))


@pytest.mark.parametrize(
    ("text", "kind", "value", "doubt", "candidates"),
    [
        pytest.param("14:05", "c", "14:05", "", (), id="a true time"),
        pytest.param("2026-09-03T14:05", "d", "14:05", "", (), id="a date with a time"),
        pytest.param("2026-09-03", "d", "2026-09-03", "not-a-time", (), id="a date"),
        pytest.param("0.604166666666667", "n", "14:30", "", (), id="a part of a day"),
        pytest.param("1405", "n", "14:05", "", (), id="four digits as a number"),
        pytest.param("14.5", "n", "14.5", "two-readings", ("14:50", "14:30"), id="half an hour or 50 minutes"),
        pytest.param("14.75", "n", "14.75", "two-readings", ("14:45",), id="three quarters of an hour"),
        pytest.param("27.5", "n", "27.5", "not-a-time", (), id="no such hour"),
        pytest.param("TRUE", "b", "TRUE", "not-a-time", (), id="a yes or no"),
        pytest.param("?", "t", "", "", (), id="a sign for nothing"),
        pytest.param("", "-", "", "", (), id="a blank"),
    ],
)
def test_the_kind_of_a_cell_decides(text: str, kind: str, value: str, doubt: str, candidates: tuple[str, ...]) -> None:
    reading = clock.read(text, kind)
    assert (reading.value, reading.doubt, reading.candidates) == (value, doubt, candidates)


@given(st.times(), st.sampled_from(("%H:%M", "%Hh%M", "%I:%M %p", "%H%M", "%I.%M%p")))
def test_a_written_time_is_read_back(time: datetime.time, form: str) -> None:
    assert clock.read(time.strftime(form), "t").value == time.strftime("%H:%M")


@given(st.integers(0, 24 * 60 - 1))
def test_a_part_of_a_day_is_read_back(minutes: int) -> None:
    text = f"{minutes / 1440:.15f}"
    assert clock.read(text, "n").value == f"{minutes // 60:02}:{minutes % 60:02}"


@given(st.text(max_size=30) | st.text("0123456789:.hapm -/", max_size=14), st.sampled_from("tndcbef-"))
def test_any_text_is_read_or_stays_as_typed(text: str, kind: str) -> None:
    reading = clock.read(text, kind)
    assert not reading.doubt or (reading.value == text.strip() and not reading.change)
    assert reading.change or reading.value == text.strip()
