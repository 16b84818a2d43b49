"""How the audit reads days, times and spans; readings are held against published examples where a source is named."""

from __future__ import annotations

import datetime
from collections.abc import Callable

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from pipeline.audit.bounds import first_allowed
from pipeline.audit.calendar_day import Day, day_of_week, day_of_year, days_in_month
from pipeline.audit.day_and_month import day_meant, month_meant
from pipeline.audit.day_words import iso_meant
from pipeline.audit.iso_day import iso_day
from pipeline.audit.parts_of_day import parts_of_day
from pipeline.audit.time.amendment_eventdate_from_yearmonthday import responds as from_year_month_day
from pipeline.audit.time.validation_day_inrange import responds as day_in_range

# source: "Darwin Core list of terms 2026-05-26, examples of eventDate"; the seconds are counted from the two ends.
# The two spans without times end with their last year or day, as the draft has it, where Darwin Core says before it.
DARWIN_CORE = [
    pytest.param("1963-03-08T14:07-06:00", "1963-03-08", "1963-03-08", 60, id="a time with its zone"),
    pytest.param("2009-02-20T08:40Z", "2009-02-20", "2009-02-20", 60, id="a time in UTC"),
    pytest.param("2018-08-29T15:19", "2018-08-29", "2018-08-29", 60, id="a time without zone"),
    pytest.param("1809-02-12", "1809-02-12", "1809-02-12", 86_400, id="one day"),
    pytest.param("1906-06", "1906-06-01", "1906-06-30", 30 * 86_400, id="one month"),
    pytest.param("1971", "1971-01-01", "1971-12-31", 365 * 86_400, id="one year"),
    pytest.param(
        "2007-03-01T13:00:00Z/2008-05-11T15:30:00Z", "2007-03-01", "2008-05-11", 37_765_800, id="a span of times"
    ),
    pytest.param("1900/1909", "1900-01-01", "1909-12-31", 3652 * 86_400, id="a span of years"),
    pytest.param("2007-11-13/15", "2007-11-13", "2007-11-15", 3 * 86_400, id="a span with a short end"),
]

# source: TDWG data quality tests (draft of 2026-06-03), validation data, dataID in the id
LENGTHS = [
    pytest.param("1880-05-08", 86_400, id="1064 a day"),
    pytest.param("1880-05-08/10", 259_200, id="1065 a span whose end is included"),
    pytest.param("2007-03-01T13:00:00Z/2008-05-11T15:30:00Z", 37_765_800, id="1071 a span of times"),
    pytest.param("2007", 31_536_000, id="1072 a year"),
    pytest.param("1980", 31_622_400, id="1073 a leap year"),
]
DAYS_OF_YEAR = [
    pytest.param("2023-01-26", 26, 26, id="295 a day"),
    pytest.param("2021-10-29", 302, 302, id="299 a day late in the year"),
    pytest.param("2007-03-01T13:00:00Z/2008-05-11T15:30:00Z", 60, 132, id="297 a span into a leap year"),
    pytest.param("1981-12-30/1982-01-03", 364, 3, id="465 a span over the new year"),
]
READ = [
    pytest.param("18/V/1981", "1981-05-18", id="690 roman month"),
    pytest.param("xi.1996", "1996-11", id="691 roman month and year"),
    pytest.param("15.10.1932", "1932-10-15", id="693 dots"),
    pytest.param("9.ii-10.iii.2000", "2000-02-09/2000-03-10", id="698 a span with roman months"),
    pytest.param("XX DEC 1932", "1932-12", id="696 a day not known"),
    pytest.param("Friday 29th Oct. 2021", "2021-10-29", id="687 weekday and ordinal"),
    pytest.param("5. juni 1932", "1932-06-05", id="697 a month that begins as in Spanish"),
    pytest.param("1980s", "1980-01-01/1989-12-31", id="701 ten years"),
    pytest.param("2021-28-10", "2021-10-28", id="402 year, day, month"),
    pytest.param("2021/10/28", "2021-10-28", id="404 strokes"),
    pytest.param("03/04/2020", "", id="688 two readings"),
    pytest.param("21-10-28", "", id="403 a year of two figures"),
]
VALID = [
    pytest.param("1962-11-01T10:00-0600", True, id="429 a zone without colon beside a time with one"),
    pytest.param("1963-03-08T14:67-0600", False, id="434 a minute that no hour has"),
    pytest.param("1963-03-08T4", False, id="436 an hour of one figure"),
    pytest.param("63", False, id="441 a year of two figures"),
]
IN_MONTH = [
    pytest.param("29", "2", "1952", "COMPLIANT", id="998 leap year"),
    pytest.param("29", "2", "2000", "COMPLIANT", id="999 leap year at a turn of centuries"),
    pytest.param("29", "2", "1900", "NOT_COMPLIANT", id="1000 no leap year"),
    pytest.param("30", "2", "1952", "NOT_COMPLIANT", id="988 no day of February"),
]
FILLED_IN = [
    pytest.param("2024", "2", "30", "NOT_AMENDED", "", id="764 no day of February"),
    pytest.param("2021", "10", "29", "FILLED_IN", '{"dwc:eventDate": "2021-10-29"}', id="761 a day"),
]
DAYS_AND_MONTHS = [
    pytest.param(month_meant, "X", 10, id="1024 a Roman month"),
    pytest.param(month_meant, "IV", 4, id="1025 a Roman month"),
    pytest.param(month_meant, "Ma", None, id="1026 March or May"),
    pytest.param(day_meant, "23rd", 23, id="1017 an ordinal"),
    pytest.param(day_meant, "IV", None, id="1018 a Roman day"),
]

# What ISO 8601 allows besides, and what it does not, from the rules that its editions publish.
OTHER_FORMS = [
    ("2025-08-09T14:05:06,5-03", True), ("20250809T140506Z", True), ("2025-08-09T24:00", True),
    ("2016-12-31T23:59:60Z", True), ("2008-02-15/03-14", True), ("2007-12-14T13:30/15:30", True),
    ("2007-12-14T13:30/T15:30", True), ("2007-11-13T09:00/15T17:00", True), ("19850412T232050/0625T1030", True),
    ("19850412/0625", True), ("2025-08/09", True), ("2025-W32/W33", True), ("2025-221/224", True), ("0000", True),
    ("2025/2025-08", True), ("2025-08-09T10:00-03:00/2025-08-09T12:00Z", False), ("2025-08-09T24:01", False),
    ("2025-08-09T10:00+24:00", False), ("2025-08-09T1405", False), ("20250809T14:05", False), ("2025T10", False),
    ("2025-08-09T12:00/2025-08-09T11:00", False), ("2025-08-09/2025-08-10/2025-08-11", False), ("2025-08-09/", False),
    ("2025-08-09T10:00/11", False), ("2025-08-09Z", False), ("2025-W54", False), ("2025-000", False), ("٢٠٢٥", False),
    ("2025-08-09\n", False), ("+002025-08-09", False), ("202508", False), ("1999/05", False), ("2025-08-09/9", False),
]  # fmt: skip
OTHER_WORDS = [
    ("9 Aug 2025 at 2:05 p.m.", "2025-08-09T14:05"), ("9 Aug 2025 13:05 pm", ""), ("2025-08-09 10:00 -03:00",
    "2025-08-09T10:00-03:00"), ("2025-08-09T9:05z", "2025-08-09T09:05Z"), ("Sat 9 - Sun 10 Aug 2025",
    "2025-08-09/2025-08-10"), ("Sat 9 - Mon 10 Aug 2025", ""), ("Saturday, Aug 2025", ""), ("2025-08-xx", "2025-08"),
    ("2025-13-xx", ""), ("2025-08-00", "2025-08"), ("0000-00-00", ""), ("1999-2000", "1999/2000"), ("2026-5",
    "2026-05"), ("1914-8", ""), ("1910/11 - 1911/12", ""), ("2025 1/2", ""), ("5-6/2025", ""), ("15/6 2025",
    "2025-06-15"), ("May 3 - 5 2025", "2025-05-03/2025-05-05"), ("5/1925 - 6/1925", "1925-05/1925-06"),
    ("12/4/2025 - 3/5/2025", ""), ("28 Dec 2024 - 3 Jan", ""), ("9 Aug 2025/10 Aug 2025", "2025-08-09/2025-08-10"),
    ("2025-", ""), ("1O/25/2025", ""), ("20250809", "2025-08-09"), ("1999123", ""), ("0825", ""), ("25082025", ""),
    ("4/4/2020", "2020-04-04"), ("from 3 to 5 May 2025", "2025-05-03/2025-05-05"), ("9 " * 60, ""), ("", ""),
]  # fmt: skip


@pytest.mark.parametrize(("written", "first", "last", "seconds"), DARWIN_CORE)
def test_the_examples_of_darwin_core_are_read(written: str, first: str, last: str, seconds: int) -> None:
    found = iso_day(written)
    assert found and (found.first.iso(), found.last.iso(), found.seconds) == (first, last, seconds)


@pytest.mark.parametrize(("written", "seconds"), LENGTHS)
def test_a_span_is_as_long_as_the_draft_says(written: str, seconds: int) -> None:
    found = iso_day(written)
    assert found and found.seconds == seconds


@pytest.mark.parametrize(("written", "start", "end"), DAYS_OF_YEAR)
def test_days_are_counted_in_their_year_as_the_draft_does(written: str, start: int, end: int) -> None:
    found = iso_day(written)
    assert found
    parts = parts_of_day(found)
    assert (parts["startDayOfYear"], parts["endDayOfYear"]) == (start, end)


def test_a_place_in_a_year_is_the_day_that_darwin_core_says() -> None:
    # source: "Darwin Core list of terms 2026-05-26, examples of startDayOfYear"
    assert [day_of_year(2025, place) for place in (1, 32, 365)] == [(2025, 1, 1), (2025, 2, 1), (2025, 12, 31)]
    assert [day_of_year(2024, place) for place in (365, 366)] == [(2024, 12, 30), (2024, 12, 31)]


@pytest.mark.parametrize(("written", "meant"), READ)
def test_a_day_in_words_is_read_as_the_draft_reads_it(written: str, meant: str) -> None:
    assert iso_meant(written) == meant


@pytest.mark.parametrize(("written", "is_valid"), VALID)
def test_what_is_valid_is_what_the_draft_accepts(written: str, is_valid: bool) -> None:
    assert (iso_day(written) is not None) == is_valid


@pytest.mark.parametrize(("day", "month", "year", "result"), IN_MONTH)
def test_a_day_is_in_its_month_as_the_draft_has_it(day: str, month: str, year: str, result: str) -> None:
    assert day_in_range(day, month, year).result == result


@pytest.mark.parametrize(("year", "month", "day", "status", "result"), FILLED_IN)
def test_year_month_and_day_make_a_date_as_in_the_draft(
    year: str, month: str, day: str, status: str, result: str
) -> None:
    assert from_year_month_day("", year, month, day)[:2] == (status, result)


@pytest.mark.parametrize(("meant", "written", "number"), DAYS_AND_MONTHS)
def test_a_day_or_month_is_the_number_that_the_draft_makes_of_it(
    meant: Callable[[str], int | None], written: str, number: int | None
) -> None:
    assert meant(written) == number


@pytest.mark.parametrize(("written", "is_valid"), OTHER_FORMS)
def test_other_forms_of_iso_8601_are_told_from_what_is_none(written: str, is_valid: bool) -> None:
    assert (iso_day(written) is not None) == is_valid


@pytest.mark.parametrize(("written", "meant"), OTHER_WORDS)
def test_only_what_can_be_read_in_one_way_is_read(written: str, meant: str) -> None:
    assert iso_meant(written) == meant


def test_a_zone_that_is_written_at_one_end_holds_for_both() -> None:
    written, both = iso_day("2025-08-09T10:00-03:00/11:00"), iso_day("2025-08-09T10:00-03:00/2025-08-09T11:00-03:00")
    assert written == both and written and written.seconds == 3600


def test_a_bound_that_is_no_date_is_told() -> None:
    with pytest.raises(ValueError, match="'soon' is no valid ISO 8601 date"):
        first_allowed("soon")


@given(st.dates(), st.dates())
@example(datetime.date(2025, 12, 31), datetime.date(2026, 1, 1))
def test_a_span_that_was_written_is_read_back(one: datetime.date, other: datetime.date) -> None:
    first, last = sorted((one, other))
    found = iso_day(f"{first.isoformat()}/{last.isoformat()}")
    assert found and (found.first.iso(), found.last.iso()) == (first.isoformat(), last.isoformat())
    assert found.seconds == ((last - first).days + 1) * 86_400
    assert first == last or iso_day(f"{last.isoformat()}/{first.isoformat()}") is None


@given(st.dates(), st.data())
def test_a_span_with_a_short_end_is_the_span_written_out(first: datetime.date, data: st.DataObject) -> None:
    day = data.draw(st.integers(first.day, days_in_month(first.year, first.month)))
    end = first.replace(day=day).isoformat()
    written_out = iso_day(f"{first.isoformat()}/{end}")
    assert written_out is not None
    assert iso_day(f"{first.isoformat()}/{end[8:]}") == iso_day(f"{first.isoformat()}/{end[5:]}") == written_out


@given(st.datetimes(), st.integers(-14 * 60, 14 * 60), st.integers(0, 10**8))
@example(datetime.datetime(2025, 8, 9, 23, 59), -210, 1)
def test_a_span_of_times_with_zones_is_as_long_as_the_clock_says(
    start: datetime.datetime, minutes: int, length: int
) -> None:
    start = start.replace(microsecond=0, tzinfo=datetime.UTC)
    try:
        end = (start + datetime.timedelta(seconds=length)).astimezone(datetime.UTC)
        ends = end.astimezone(datetime.timezone(datetime.timedelta(minutes=minutes)))
    except OverflowError:
        return
    found = iso_day(f"{start.isoformat()}/{ends.isoformat()}")
    if ends.date() >= start.date():  # else the days run backwards, though the hours do not
        assert found and found.seconds == length and found.last.iso() == ends.date().isoformat()


@given(st.dates(max_value=datetime.date(9998, 12, 31)))
def test_a_day_is_counted_as_the_library_counts_it(date: datetime.date) -> None:
    day = Day(date.year, date.month, date.day)
    assert (day.number(), day.weekday(), day.of_year()) == (
        date.toordinal(), date.isoweekday(), date.timetuple().tm_yday
    )  # fmt: skip
    year, week, weekday = date.isocalendar()
    assert day == day_of_year(date.year, day.of_year()) == day_of_week(year, week, weekday)


@given(
    st.dates(min_value=datetime.date(1001, 1, 1)), st.sampled_from(["%Y%m%d", "%Y-%j", "%Y%j", "%G-W%V-%u", "%GW%V%u"])
)
def test_a_day_is_read_in_every_form_of_iso_8601(date: datetime.date, form: str) -> None:
    found = iso_day(date.strftime(form))
    assert found and found.first == found.last == (date.year, date.month, date.day)


@given(
    st.dates(min_value=datetime.date(1000, 1, 1)), st.sampled_from(["%d %B %Y", "%B %d, %Y", "%Y/%m/%d", "%d-%b-%Y"])
)
def test_a_day_in_words_that_was_written_is_read_back(date: datetime.date, form: str) -> None:
    assert iso_meant(date.strftime(form)) == date.isoformat()


@given(st.text(st.sampled_from("0123456789-/.: TZWxaugiv+?"), max_size=24) | st.text(max_size=30))
def test_whatever_is_read_in_words_is_iso_8601(written: str) -> None:
    meant = iso_meant(written)
    assert meant == "" or iso_day(meant)
