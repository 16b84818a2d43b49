"""What rules compare: days and the season, numbers, words nearest to what was typed, columns that a table lacks."""

from __future__ import annotations

from datetime import date, timedelta

import pandas as pd
import pytest
from example_tables import empty, read_examples
from hypothesis import given
from hypothesis import settings as tried
from hypothesis import strategies as st
from portal_rows import people_of

from pipeline.files.schemas import lists
from pipeline.settings import Settings, read_settings
from pipeline.stages.look_up import look_up
from pipeline.stages.look_up_days import look_up_days
from pipeline.stages.look_up_people import look_up_people

LISTS = lists()
NEW_YEAR = read_settings("[season]\nfirst_day = 2026-11-01\nlast_day = 2027-02-28\n")
NO_PLACES = pd.DataFrame(columns=["table_id", "field"])


def rows_of(text: str) -> pd.DataFrame:
    """Rows with every column, from a table as text; what it does not name is blank."""
    return read_examples(text, "row")[0].cells


def facts(text: str, settings: Settings | None = None) -> pd.DataFrame:
    return pd.DataFrame(look_up(rows_of(text), NO_PLACES, LISTS, settings or Settings()))


def days(text: str, settings: Settings | None = None) -> pd.DataFrame:
    return pd.DataFrame(look_up_days(rows_of(text), settings or Settings()))


def iso(values: pd.Series) -> list[str]:
    return values.dt.strftime("%Y-%m-%d").fillna("").tolist()


# A day, a month, a year and a span: ISO 8601-1, 5.2 and 5.5.
SPANS = [
    ("a day", "2026-09-03", "2026-09-03", "2026-09-03"),
    ("a month", "2026-09", "2026-09-01", "2026-09-30"),
    ("February of a leap year", "2028-02", "2028-02-01", "2028-02-29"),
    ("a year", "2026", "2026-01-01", "2026-12-31"),
    ("a span of days", "2026-09-03/2026-09-05", "2026-09-03", "2026-09-05"),
    ("a span of months", "2026-09/2026-10", "2026-09-01", "2026-10-31"),
    ("no day", "", "", ""),
]


@pytest.mark.parametrize(("text", "first", "last"), [case[1:] for case in SPANS], ids=[case[0] for case in SPANS])
def test_a_day_has_a_first_and_a_last_day(text: str, first: str, last: str) -> None:
    found = days(f'eventDate\n"{text}"')
    assert (iso(found["first_day"]), iso(found["last_day"])) == ([first], [last])


def test_a_day_in_doubt_has_no_days_but_two_readings() -> None:
    found = days(
        "eventDate | eventDate_doubt | eventDate_candidates\n3/9/2026 | two-readings | 2026-09-03 ¦ 2026-03-09"
    )
    assert found[["first_day", "last_day"]].isna().all(axis=None)
    assert (iso(found["day_one"]), iso(found["day_two"])) == (["2026-09-03"], ["2026-03-09"])


def test_a_single_possible_reading_is_the_first_one() -> None:
    found = days("eventDate | eventDate_doubt | eventDate_candidates\n3 Sept | no-year | 2026-09-03")
    assert (iso(found["day_one"]), iso(found["day_two"])) == (["2026-09-03"], [""])


# The season of the settings is 1 August to 10 November 2026, or 1 November 2026 to 28 February 2027.
OUTSIDE = [
    ("the first day", "2026-08-01", 0, -92),
    ("the day before", "2026-07-31", -1, -93),
    ("the last day", "2026-11-10", 0, 0),
    ("the day after", "2026-11-11", 1, 0),
    ("new year's eve", "2026-12-31", 51, 0),
    ("new year's day", "2027-01-01", 52, 0),
    ("the day after a season over new year", "2027-03-01", 111, 1),
    ("a year early", "2025-09-03", -332, -424),
    ("a span that begins before", "2026-07-30/2026-08-03", -2, -94),
    ("a span that ends after", "2026-11-09/2026-11-12", 2, 0),
    ("a span over all of it, as far before as after", "2026-07-22/2026-11-20", -10, -102),
    ("a month inside", "2026-09", 0, -61),
    ("no day", "", 0, 0),
]


@pytest.mark.parametrize(
    ("text", "autumn", "winter"), [case[1:] for case in OUTSIDE], ids=[case[0] for case in OUTSIDE]
)
def test_how_far_a_day_lies_outside_the_season(text: str, autumn: int, winter: int) -> None:
    table = f'eventDate\n"{text}"'
    assert days(table)["days_outside_season"].tolist() == [autumn]
    assert days(table, NEW_YEAR)["days_outside_season"].tolist() == [winter]


@tried(max_examples=30, deadline=None)
@given(st.dates(date(2024, 1, 1), date(2029, 1, 1)))
def test_a_day_is_outside_by_the_days_to_the_nearest_end_of_the_season(day: date) -> None:
    first, last = NEW_YEAR.season.first_day, NEW_YEAR.season.last_day
    expected = min((day - first).days, 0) or max((day - last).days, 0)
    found = days(f"eventDate\n{day}", NEW_YEAR)
    assert found["days_outside_season"].tolist() == [expected]
    assert iso(found["season_first_day"]) == ["2026-11-01"] and iso(found["season_last_day"]) == ["2027-02-28"]


EXCHANGED = [
    ("possible", "2026-09-03", "2026-03-09"),
    ("not possible", "2026-09-25", ""),
    ("the same", "2026-09-09", "2026-09-09"),
    ("only a month", "2026-09", ""),
]


@pytest.mark.parametrize(("text", "other"), [case[1:] for case in EXCHANGED], ids=[case[0] for case in EXCHANGED])
def test_day_and_month_exchanged_make_another_day_or_none(text: str, other: str) -> None:
    assert iso(days(f"eventDate\n{text}")["other_order"]) == [other]


def test_the_weekday_beside_a_day_is_known_in_three_languages() -> None:
    found = days(
        "eventDate | eventDate_written\n2026-09-03 | Thu 3 Sept\n2026-09-03 | jeudi 3 sept\n2026-09-03 | 3 Sept"
    )
    assert found["weekday_written"].tolist() == ["Thursday", "Thursday", ""]


def test_days_of_capture_and_emergence_are_days_only_where_they_were_read() -> None:
    found = days("captureDate | emergenceDate\n2026-09-01 | 2026-08\nsoon | 2026-08-30")
    assert iso(found["capture_day"]) == ["2026-09-01", ""]
    assert iso(found["emergence_day"]) == ["", "2026-08-30"]


YEARS = [
    ("four of five", ["2026-09-03"] * 4 + ["2024-02-29"], 2026.0, ""),
    ("a day that the other year has", ["2026-09-03"] * 4 + ["2025-09-04"], 2026.0, "2026-09-04"),
    ("three of four", ["2026-09-03"] * 3 + ["2025-09-04"], None, ""),
    ("four of eight", ["2026-09-03"] * 4 + ["2025-09-04"] * 4, None, ""),
]


@pytest.mark.parametrize(("texts", "year", "moved"), [case[1:] for case in YEARS], ids=[case[0] for case in YEARS])
def test_the_usual_year_is_that_of_most_of_a_tables_days(texts: list[str], year: float | None, moved: str) -> None:
    found = days("eventDate\n" + "\n".join(texts))
    assert found["usual_year"].astype("object").where(found["usual_year"].notna(), None).tolist() == [year] * len(texts)
    assert iso(found["day_in_usual_year"])[-1] == moved


def test_another_tables_days_do_not_make_the_usual_year() -> None:
    found = days("table_id | eventDate\n" + "1 | 2026-09-03\n" * 3 + "2 | 2026-09-03\n" * 4)
    assert found["usual_year"].notna().tolist() == [False] * 3 + [True] * 4


def test_true_dates_and_texts_of_a_column_are_told_apart_where_it_has_three_of_them() -> None:
    lines = ["2026-09-03 | 2026-09-03 | d", "2026-09-11 | 2026-09-11 | d", "2026-09-12 | 2026-09-12 | d"]
    lines += ["2026-09-14 | 14/9/2026 | t", "2026-09-13 | 13/9/2026 | t", "2026-09-25 | 25 Sept 2026 | t"]
    heading = "eventDate | eventDate_written | eventDate_kind\n"
    found = days(heading + "\n".join(lines))
    assert (iso(found["first_true_day"])[-1], iso(found["last_true_day"])[-1]) == ("2026-09-03", "2026-09-12")
    assert found["highest_true_day"].tolist() == [12.0] * 6
    assert found["lowest_text_day"].isna().all(), "a date with a word in it is no text of numbers: two are too few"
    more = days(heading + "\n".join([*lines[1:], "2026-09-27 | 27/9/2026 | t"]))
    assert more["lowest_text_day"].tolist() == [13.0] * 6
    assert more["highest_true_day"].isna().all()


# Numbers, as texts in standard form.
NUMBERS = [
    ("a length", "forewingLength", "51.5", "millimetres", 51.5),
    ("a span", "wingSpan", "98", "span_millimetres", 98.0),
    ("a mass", "bodyMass", "0.512", "grams", 0.512),
    ("a grade of wear", "wingWear", "3", "wear", 3.0),
    ("an accuracy", "coordinateUncertaintyInMeters", "30", "uncertainty_metres", 30.0),
    ("a length below nothing", "forewingLength", "-5", "millimetres", -5.0),
    ("a length that was not read", "forewingLength", ">50", "millimetres", None),
    ("two lengths", "forewingLength", "51 or 52", "millimetres", None),
    ("a blank", "bodyMass", "", "grams", None),
    ("a time", "eventTime", "14:05", "minutes_of_day", 845.0),
    ("a time with seconds", "eventTime", "00:00:59", "minutes_of_day", 0.0),
    ("a span of times", "eventTime", "14:05/15:00", "minutes_of_day", 845.0),
    ("a time that was not read", "eventTime", "noonish", "minutes_of_day", None),
]


@pytest.mark.parametrize(
    ("field", "text", "fact", "number"), [case[1:] for case in NUMBERS], ids=[case[0] for case in NUMBERS]
)
def test_a_measure_is_a_number_where_it_was_read(field: str, text: str, fact: str, number: float | None) -> None:
    found = facts(f'{field}\n"{text}"')[fact]
    assert found.dtype == "float64"
    assert [None if pd.isna(value) else value for value in found] == [number]


NEAR = [
    ("a misspelt sex", "sex", "femmale", "not-in-list", "nearest_sex", "female"),
    ("a misspelt origin", "origin", "wildd", "not-in-list", "nearest_origin", "wild"),
    ("a misspelt stage", "lifeStage", "adullt", "not-in-list", "nearest_stage", "adult"),
    ("a misspelt country", "countryCode", "Canadda", "not-in-list", "nearest_country", "CA"),
    ("a misspelt province", "stateProvince", "New Brunswik", "not-in-list", "nearest_state", "New Brunswick"),
    ("a misspelt species", "scientificName", "Danaus plexipus", "not-in-list", "nearest_species", "Danaus plexippus"),
    ("nothing near", "sex", "zigzag", "not-in-list", "nearest_sex", ""),
    ("a single letter", "sex", "x", "not-in-list", "nearest_sex", ""),
    ("a word that is known", "sex", "female", "", "nearest_sex", ""),
    ("a word in doubt for another reason", "sex", "F?", "unsure", "nearest_sex", ""),
]


@pytest.mark.parametrize(
    ("field", "word", "doubt", "fact", "near"), [case[1:] for case in NEAR], ids=[case[0] for case in NEAR]
)
def test_the_nearest_word_of_a_list_is_looked_up(field: str, word: str, doubt: str, fact: str, near: str) -> None:
    found = facts(f"{field} | {field}_doubt\n{word} | {doubt}")
    assert found[fact].tolist() == [near]


def test_the_countries_of_a_state_are_known_by_its_name() -> None:
    found = facts('stateProvince\nNew Brunswick\nNowhere\n""')
    assert found["country_of_state"].tolist() == ["CA", "", ""]


SPECIES = [
    ("the allowed one", "Danaus plexippus", "", ("Danaus plexippus", True, False)),
    ("blank", "", "", ("", True, False)),
    ("a genus", "Danaus", "", ("Danaus", False, True)),
    ("a name in doubt", "Danaus plexipus", "not-in-list", ("", False, False)),
]


@pytest.mark.parametrize(
    ("name", "doubt", "expected"), [case[1:] for case in SPECIES], ids=[case[0] for case in SPECIES]
)
def test_a_species_is_read_allowed_or_a_genus(name: str, doubt: str, expected: tuple[str, bool, bool]) -> None:
    found = facts(f'scientificName | scientificName_doubt\n"{name}" | "{doubt}"')
    assert tuple(found.loc[found.index[0], ["species", "species_is_allowed", "species_is_genus"]]) == expected


def test_the_species_that_share_a_name_are_told_only_where_that_is_the_doubt() -> None:
    found = facts(
        "scientificName | scientificName_doubt | scientificName_candidates\n"
        "Queen | name-of-several | Danaus eresimus ¦ Danaus gilippus\nQueen? | unsure | Danaus gilippus"
    )
    assert found["species_of_name"].tolist() == ["Danaus eresimus, Danaus gilippus", ""]


ORIGINS = [
    ("wild", "wild", False),
    ("reared", "reared", False),
    ("bred", "bred", True),
    ("bought", "bought", True),
    ("blank", "", False),
    ("a word that is not known", "garden", False),
]


@pytest.mark.parametrize(("origin", "stays"), [case[1:] for case in ORIGINS], ids=[case[0] for case in ORIGINS])
def test_an_origin_that_the_settings_do_not_send_stays_home(origin: str, stays: bool) -> None:
    assert facts(f'origin\n"{origin}"')["origin_stays_home"].tolist() == [stays]


def test_the_settings_say_how_fast_and_how_old_a_butterfly_may_be() -> None:
    found = facts("sex\nmale", read_settings("[finds]\nlongest_life_days = 300\nfastest_km_per_day = 99.5\n"))
    assert found[["fastest_km_per_day", "longest_life_days"]].to_numpy().tolist() == [[99.5, 300.0]]


COLUMNS = [
    ("day, tag and town", ["tagCode", "eventDate", "municipality"], (False, False, False)),
    ("no day", ["tagCode", "municipality"], (True, False, False)),
    ("no tag", ["eventDate", "postalCode"], (False, True, False)),
    ("no place", ["tagCode", "eventDate", "countryCode"], (False, False, True)),
    ("only a province", ["tagCode", "eventDate", "stateProvince"], (False, False, False)),
    ("nothing", [], (True, True, True)),
]


@pytest.mark.parametrize(("fields", "missing"), [case[1:] for case in COLUMNS], ids=[case[0] for case in COLUMNS])
def test_a_needed_column_that_the_table_lacks_is_known(fields: list[str], missing: tuple[bool, bool, bool]) -> None:
    places = pd.DataFrame({"table_id": [1] * len(fields), "field": fields}, columns=["table_id", "field"])
    found = look_up(rows_of("table_id | sex\n1 | male"), places, LISTS, Settings())
    names = ("day_column_is_missing", "tag_column_is_missing", "place_columns_are_missing")
    assert tuple(found[name].tolist()[0] for name in names) == missing


def test_the_columns_of_another_table_do_not_help() -> None:
    places = pd.DataFrame({"table_id": [2], "field": ["eventDate"]})
    found = look_up(rows_of("table_id | sex\n1 | male\n2 | male"), places, LISTS, Settings())
    assert found["day_column_is_missing"].tolist() == [True, False]


PEOPLE = people_of(
    {"person_id": "p1", "name": "Ines Melanson", "minor": "no"},
    {"person_id": "p3", "name": "Tess Okpara", "minor": "yes"},
    {"person_id": "p4", "name": "", "minor": "yes"},
)

MINORS = [
    ("a grown-up", "p1", "Ines Melanson", True, False),
    ("a child who sends", "p3", "", True, True),
    ("a child without a name on file", "p4", "", True, True),
    ("a child who is named", "p1", "TESS  okpara", True, True),
    ("nobody", "", "", False, False),
    ("somebody not on file", "", "Rosa Ejemplo", False, False),
]


@pytest.mark.parametrize(
    ("person", "name", "is_known", "is_minor"), [case[1:] for case in MINORS], ids=[case[0] for case in MINORS]
)
def test_a_child_is_known_as_sender_and_by_name(person: str, name: str, is_known: bool, is_minor: bool) -> None:
    found = look_up_people(rows_of(f'person_id | recordedBy\n"{person}" | "{name}"'), PEOPLE)
    assert found["is_sender_known"].tolist() == [is_known]
    assert found["recorded_by_is_minor"].tolist() == [is_minor]


def test_facts_keep_to_the_rows_and_do_not_fail_without_any() -> None:
    rows = rows_of("eventDate | sex\n2026-09-03 | male\n2026-09-04 | male")
    for found in (look_up(rows, NO_PLACES, LISTS, Settings()), look_up_days(rows, Settings())):
        assert all(fact.index.equals(rows.index) for fact in found.values())
    none = empty("row")
    for found in (
        look_up(none, NO_PLACES, LISTS, Settings()), look_up_days(none, Settings()), look_up_people(none, PEOPLE),
    ):  # fmt: skip
        assert all(len(fact) == 0 for fact in found.values())


@tried(max_examples=30, deadline=None)
@given(st.dates(date(1950, 1, 1), date(2090, 1, 1)), st.integers(0, 400))
def test_a_span_begins_and_ends_with_its_days(day: date, length: int) -> None:
    last = day + timedelta(days=length)
    found = days(f"eventDate\n{day}/{last}")
    assert (iso(found["first_day"]), iso(found["last_day"])) == ([str(day)], [str(last)])
