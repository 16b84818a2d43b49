"""How days are read; readings are held against published examples where a source is named."""

from __future__ import annotations

import datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pipeline.values import day

# source: "Darwin Core list of terms 2026-05-26, examples of eventDate"
DARWIN_CORE = [
    pytest.param("1963-03-08T14:07-06:00", "1963-03-08", id="a time with its zone"),
    pytest.param("2009-02-20T08:40Z", "2009-02-20", id="a time in UTC"),
    pytest.param("2018-08-29T15:19", "2018-08-29", id="a time without zone"),
    pytest.param("1809-02-12", "1809-02-12", id="one day"),
    pytest.param("1906-06", "1906-06", id="one month"),
    pytest.param("1971", "1971", id="one year"),
    pytest.param("2007-03-01T13:00:00Z/2008-05-11T15:30:00Z", "2007-03-01/2008-05-11", id="a span of times"),
    pytest.param("1900/1909", "1900/1909", id="a span of years"),
    pytest.param("2007-11-13/15", "2007-11-13/2007-11-15", id="a span with a short end"),
]

# source: TDWG data quality tests (draft of 2026-06-03), validation data, dataID in the id
QUALITY_TESTS = [
    pytest.param("18/V/1981", "1981-05-18", id="690 roman month"),
    pytest.param("xi.1996", "1996-11", id="691 roman month and year"),
    pytest.param("15.10.1932", "1932-10-15", id="693 dots"),
    pytest.param("9.ii-10.iii.2000", "2000-02-09/2000-03-10", id="698 a span with roman months"),
    pytest.param("XX DEC 1932", "1932-12", id="696 a day not known"),
    pytest.param("Friday 29th Oct. 2021", "2021-10-29", id="687 weekday and ordinal"),
    pytest.param("2021-28-10", "2021-10-28", id="402 year, day, month"),
    pytest.param("2021/10/28", "2021-10-28", id="404 slashes"),
    pytest.param("1880-05-08/10", "1880-05-08/1880-05-10", id="1065 a span with a short end"),
]
QUALITY_TESTS_NOT_READ = [
    pytest.param("03/04/2020", "two-readings", id="688 two readings"),
    pytest.param("21-10-28", "two-readings", id="403 a year of two digits in front"),
    pytest.param("1963-03-08T14:67-0600", "not-a-day", id="434 no such time"),
    pytest.param("1963-03-08T4", "not-a-day", id="436 a time of one digit"),
    pytest.param("63", "not-a-day", id="441 a number"),
    pytest.param("2024-02-30", "not-in-calendar", id="764 30 February"),
    pytest.param("1900-02-29", "not-in-calendar", id="1000 no leap year"),
    pytest.param("1952-02-30", "not-in-calendar", id="988 30 February"),
]

# Seen in public field sheets, as typed.
FIELD_SHEETS = [
    pytest.param("6.22.2015", "2015-06-22", id="dots in month-first order"),
    pytest.param("6/25/18", "2018-06-25", id="a year of two digits"),
    pytest.param("8-V-03", "2003-05-08", id="roman month and a year of two digits"),
    pytest.param("IV.21.36", "2036-04-21", id="roman month in front"),
    pytest.param("VII-10-20", "2020-07-10", id="roman month in front with dashes"),
    pytest.param("14-IX-1974", "1974-09-14", id="roman month in the middle"),
    pytest.param("1969-00-00", "1969", id="zero month and day"),
    pytest.param("1981-05-00", "1981-05", id="zero day"),
]

COMMON_PRACTICE = [
    pytest.param("2026-09-03", "2026-09-03", id="iso"),
    pytest.param("20260903", "2026-09-03", id="iso without dashes"),
    pytest.param("25/9/2026", "2026-09-25", id="day over 12 first"),
    pytest.param("9/25/2026", "2026-09-25", id="day over 12 second"),
    pytest.param("9 25 2026", "2026-09-25", id="blanks between"),
    pytest.param("9/9/2026", "2026-09-09", id="equal day and month"),
    pytest.param("25/9/98", "1998-09-25", id="century nearest the season"),
    pytest.param("3-Sep-26", "2026-09-03", id="spreadsheet style"),
    pytest.param("3sept2026", "2026-09-03", id="nothing between"),
    pytest.param("September 3rd, 2026", "2026-09-03", id="english long"),
    pytest.param("3rd of September 2026", "2026-09-03", id="english with of"),
    pytest.param("Thu, 3 Sept '26", "2026-09-03", id="weekday and apostrophe"),
    pytest.param("le 1er septembre 2026", "2026-09-01", id="french first of the month"),
    pytest.param("jeudi 3 août 2026", "2026-08-03", id="french with weekday"),
    pytest.param("30 févr. 2026", "", id="french 30 February"),
    pytest.param("3 de septiembre de 2026", "2026-09-03", id="spanish long"),
    pytest.param("1º de setiembre del 2026", "2026-09-01", id="spanish first of the month"),
    pytest.param("Sept 2026", "2026-09", id="a month"),
    pytest.param("09/2026", "2026-09", id="a month in numbers"),
    pytest.param("Sept. 98", "1998-09", id="a month and a year of two digits"),
    pytest.param("00/09/2026", "2026-09", id="zero for the day"),
    pytest.param("3-5 Sept 2026", "2026-09-03/2026-09-05", id="a span of days"),
    pytest.param("3 – 5 Sept 2026", "2026-09-03/2026-09-05", id="a span with a long dash"),
    pytest.param("Sept 3-5, 2026", "2026-09-03/2026-09-05", id="a span after the month"),
    pytest.param("3 au 5 septembre 2026", "2026-09-03/2026-09-05", id="a french span"),
    pytest.param("del 3 al 5 de septiembre de 2026", "2026-09-03/2026-09-05", id="a spanish span"),
    pytest.param("30 août - 2 sept. 2026", "2026-08-30/2026-09-02", id="a span over two months"),
    pytest.param("Sept-Oct 2026", "2026-09/2026-10", id="a span of months"),
    pytest.param("28/8-3/9/2026", "2026-08-28/2026-09-03", id="one end settles the other"),
    pytest.param("25/9/2026 2:30 PM", "2026-09-25", id="a time behind"),
    pytest.param("９/25/2026", "2026-09-25", id="full-width digit"),
]

DOUBTS = [
    pytest.param("3/9/2026", "two-readings", ("2026-09-03", "2026-03-09"), id="open order"),
    pytest.param("3.9.26", "two-readings", ("2026-09-03", "2026-03-09"), id="open order with dots"),
    pytest.param("26-09-03", "two-readings", ("2003-09-26", "2026-09-03"), id="year or day in front"),
    pytest.param("7/4 - 7/7/23", "two-readings", ("2023-04-07/2023-07-07", "2023-07-04/2023-07-07"), id="open span"),
    pytest.param("03092026", "two-readings", ("2026-09-03", "2026-03-09"), id="eight digits, year last"),
    pytest.param("24oct", "no-year", ("2026-10-24",), id="no year"),
    pytest.param("2-Sep", "no-year", ("2026-09-02",), id="no year, spreadsheet style"),
    pytest.param("3/9", "no-year", ("2026-09-03", "2026-03-09"), id="no year and open order"),
    pytest.param("16/07-27/08", "no-year", ("2026-07-16/2026-08-27",), id="a span without a year"),
    pytest.param("31/9/2026", "not-in-calendar", (), id="31 September"),
    pytest.param("29/2/2026", "not-in-calendar", (), id="29 February in no leap year"),
    pytest.param("13/13/2026", "not-in-calendar", (), id="no such month"),
    pytest.param("0000-09-03", "not-in-calendar", (), id="no such year"),
    pytest.param("5-3 Sept 2026", "not-in-calendar", (), id="a span that runs backwards"),
    pytest.param("last Tuesday", "not-a-day", (), id="words"),
    pytest.param("**1920", "not-a-day", (), id="signs before a year"),
    pytest.param("3 & 5 Sept 2026", "not-a-day", (), id="two days"),
    pytest.param("3/5 Sept 2026", "not-a-day", (), id="two days or a span"),
    pytest.param("~3 Sept 2026", "unsure", ("2026-09-03",), id="about"),
    pytest.param("3 Sept 2026 ?", "unsure", ("2026-09-03",), id="a question mark behind"),
    pytest.param("vers le 3 septembre 2026", "unsure", ("2026-09-03",), id="about, in french"),
    pytest.param("~3/9/2026", "not-a-day", (), id="about, and with two readings"),
    pytest.param("200", "not-a-day", (), id="a number of three digits"),
    pytest.param("12345", "not-a-day", (), id="a number far from the season"),
]


@pytest.mark.parametrize(("text", "value"), DARWIN_CORE + QUALITY_TESTS + FIELD_SHEETS)
def test_a_published_or_typed_example_is_read(text: str, value: str) -> None:
    assert day.read(text).value == value


@pytest.mark.parametrize(("text", "doubt"), QUALITY_TESTS_NOT_READ)
def test_an_example_that_must_not_be_amended_stays_as_typed(text: str, doubt: str) -> None:
    assert day.read(text, season_year=2021)[:3] == (text, "", doubt)


@pytest.mark.parametrize(("text", "value"), COMMON_PRACTICE)
def test_a_day_in_a_common_form_is_read(text: str, value: str) -> None:
    reading = day.read(text)
    assert reading.value == (value or text)
    assert bool(reading.doubt) == (not value)


@pytest.mark.parametrize(("text", "doubt", "candidates"), DOUBTS)
def test_a_day_in_doubt_stays_as_typed(text: str, doubt: str, candidates: tuple[str, ...]) -> None:
    assert day.read(text) == (text, "", doubt, candidates)


@pytest.mark.parametrize(
    ("text", "kind", "value", "doubt"),
    [
        pytest.param("2026-09-03", "d", "2026-09-03", "", id="a true date"),
        pytest.param("2026-09-03T14:05:22", "d", "2026-09-03", "", id="a true date with time"),
        pytest.param("46268", "n", "46268", "number-of-a-day", id="the number behind a date"),
        pytest.param("46268.587", "n", "46268.587", "number-of-a-day", id="the number behind a date with time"),
        pytest.param("2026", "n", "2026", "", id="a year as a number"),
        pytest.param("3.9", "n", "3.9", "not-a-day", id="a number with a point"),
        pytest.param("14:05", "c", "14:05", "not-a-day", id="a clock time"),
        pytest.param("TRUE", "b", "TRUE", "not-a-day", id="a yes or no"),
        pytest.param("#N/A", "e", "#N/A", "not-a-day", id="an error value of the spreadsheet"),
        pytest.param("=A1", "f", "=A1", "not-a-day", id="a formula without result"),
        pytest.param("", "-", "", "", id="a blank"),
        pytest.param("n/a", "t", "", "", id="a word for nothing"),
    ],
)
def test_the_kind_of_a_cell_decides(text: str, kind: str, value: str, doubt: str) -> None:
    reading = day.read(text, kind)
    assert (reading.value, reading.doubt) == (value, doubt)


def test_the_order_of_the_column_settles_an_open_day() -> None:
    assert day.read("3/9/2026", order="day-first").value == "2026-09-03"
    assert day.read("3/9/2026", order="month-first").value == "2026-03-09"
    assert day.read("3/9/2026 to 5/9/2026", order="day-first").value == "2026-09-03/2026-09-05"


def test_the_order_of_the_column_does_not_turn_a_day_that_settles_itself() -> None:
    assert day.read("9/25/2026", order="day-first").value == "2026-09-25"
    assert day.read("2026-03-09", order="month-first").value == "2026-03-09"


@pytest.mark.parametrize(
    ("text", "order"),
    [
        pytest.param("25/9/2026", "day-first", id="first over 12"),
        pytest.param("9/25/2026", "month-first", id="second over 12"),
        pytest.param("16/07-27/08", "day-first", id="a span"),
        pytest.param("3/9/2026", "", id="both up to 12"),
        pytest.param("2026-09-25", "", id="year first"),
        pytest.param("25 Sept 2026", "", id="a month word"),
        pytest.param("00/09/2026", "", id="zero proves nothing"),
        pytest.param("30/2/2026", "", id="no such day"),
        pytest.param("26-09-03", "", id="the first may be the year"),
        pytest.param("9/26", "", id="the second may be the year"),
    ],
)
def test_a_number_over_12_shows_the_order(text: str, order: str) -> None:
    assert day.order_shown(text) == order


@pytest.mark.parametrize(
    ("text", "weekday"),
    [
        pytest.param("Thu 3 Sept 2026", "Thursday", id="english"),
        pytest.param("3/9/2026 (jeudi)", "Thursday", id="french behind"),
        pytest.param("sábado 5 de septiembre", "Saturday", id="spanish"),
        pytest.param("mar. 8/9/2026", "Tuesday", id="mar beside a whole date is Tuesday"),
        pytest.param("mar 8 sept", "Tuesday", id="mar beside a month is Tuesday"),
        pytest.param("8 mar 2026", "", id="mar alone is March"),
        pytest.param("Mon or Tue", "", id="two weekdays"),
        pytest.param("2026-09-03", "", id="none"),
    ],
)
def test_a_weekday_is_noticed(text: str, weekday: str) -> None:
    assert day.weekday_written(text) == weekday


FORMATS = (
    "%Y-%m-%d",
    "%Y/%m/%d",
    "%Y%m%d",
    "%d %B %Y",
    "%B %d, %Y",
    "%a %d %b %Y",
    "%d-%b-%Y",
    "%Y-%m-%dT%H:%M:%S",
)
DAYS = st.datetimes(datetime.datetime(1900, 1, 1), datetime.datetime(2099, 12, 31))


@given(DAYS, st.sampled_from(FORMATS))
def test_a_written_day_is_read_back(when: datetime.datetime, form: str) -> None:
    assert day.read(when.strftime(form)).value == when.date().isoformat()


@given(DAYS, st.sampled_from("/.- "))
def test_a_day_in_numbers_is_never_turned_in_silence(when: datetime.datetime, sign: str) -> None:
    reading = day.read(when.strftime(f"%d{sign}%m{sign}%Y"))
    assert when.date().isoformat() in (reading.value, *reading.candidates[:1])
    assert day.read(when.strftime(f"%m{sign}%d{sign}%Y"), order="month-first").value == when.date().isoformat()


@pytest.mark.parametrize(
    ("number", "days"),
    [
        pytest.param("44724", ("2022-06-12", "2026-06-13"), id="from 1900 or from 1904"),
        pytest.param("46268", ("2026-09-03", "2030-09-04"), id="this season's"),
        pytest.param("44806", ("2022-09-02", "2026-09-03"), id="this season's, counted from 1904"),
        pytest.param("47848", ("2030-12-31",), id="too late when counted from 1904"),
        pytest.param("43465", ("2023-01-01",), id="too early when counted from 1900"),
        pytest.param("20260", (), id="neither"),
    ],
)
def test_a_spreadsheets_number_of_a_day_is_asked_about(number: str, days: tuple[str, ...]) -> None:
    # 1462 days lie between the two ways of counting: "44724" in a field sheet stood for 2022-06-12.
    for kind in "tn":
        doubt = "number-of-a-day" if days else "not-a-day"
        assert day.read(number, kind) == (number, "", doubt, days)


@given(st.dates(datetime.date(2022, 1, 1), datetime.date(2031, 12, 31)))
def test_the_number_behind_a_date_offers_the_date(when: datetime.date) -> None:
    serial = (when - datetime.date(1899, 12, 30)).days
    assert when.isoformat() in day.read(str(serial), "n").candidates


@given(
    st.text(max_size=40) | st.text("0123456789/-. abcdefjmnopstuvxyé", max_size=25),
    st.sampled_from("tndcbef-"),
)
def test_any_text_is_read_or_stays_as_typed(text: str, kind: str) -> None:
    reading = day.read(text, kind)
    assert not reading.doubt or (reading.value == text.strip() and not reading.change)
    assert reading.change or reading.value == text.strip()
    assert day.order_shown(text) in ("day-first", "month-first", "")
    day.weekday_written(text)
