"""Answers are put into the rows: read like what was typed in a sheet, as long as the cell says what was asked about."""

from __future__ import annotations

from typing import Any

import pandas as pd
import pytest
from example_tables import field_columns
from hypothesis import given
from hypothesis import settings as tried
from hypothesis import strategies as st

from pipeline.files.schemas import lists
from pipeline.remembered import ANSWERS, nothing
from pipeline.settings import Settings, read_settings
from pipeline.stages.put_in import PutIn, put_in
from pipeline.values.readers import typed_reader

SEASON = "2026-08-01/2026-11-10"  # that of the settings where programme.toml says nothing else
ASPECTS = ("", "_written", "_kind", "_doubt", "_candidates")
COLUMNS = [*field_columns(), "key", "person_id"]
ROW = {
    "key": "k1",
    "person_id": "p1",
    "tagCode": "AB0013",
    "recordKind": "release",
    "eventDate": "31/09/2026",
    "sex": "M?",
}


def rows_of(*cases: dict[str, str]) -> pd.DataFrame:
    """Rows as normalise leaves them; a field is written as it is said, where a case does not say otherwise."""
    lines = []
    for case in cases:
        line = dict.fromkeys(COLUMNS, "") | ROW | case
        said = {name: text for name, text in line.items() if f"{name}_written" in line}
        written = {f"{name}_written": text for name, text in said.items()}
        kinds = {f"{name}_kind": "t" if text else "-" for name, text in said.items()}
        lines.append(line | written | kinds | case)
    return pd.DataFrame(lines, columns=COLUMNS, index=range(40, 40 + len(lines)), dtype="str")


def answer(field: str, value: str = "", choice: str = "other", **told: str) -> dict[str, str]:
    """An answer about k1, given to what its cell says in ROW."""
    base = ROW.get(field, "")
    usual = {
        "key": "k1", "field": field, "choice": choice, "value": value, "kind": "t", "base_written": base,
        "base_value": base, "who": "p1", "ref": "K3H8M2Q",
    }  # fmt: skip
    return usual | told


def answered(rows: pd.DataFrame, *answers: dict[str, str], settings: Settings | None = None) -> PutIn:
    settings = settings or Settings()
    table = pd.DataFrame(list(answers), columns=list(ANSWERS), dtype="str")
    return put_in(rows, table, typed_reader(lists(), settings, frozenset({"p1"})), settings)


def cell(done: PutIn, field: str, at: int = 0) -> tuple[str, ...]:
    """Value, as typed, kind, doubt, candidates."""
    return tuple(str(done.rows.iloc[at][field + aspect]) for aspect in ASPECTS)


READ = [
    ("a day in words", "eventDate", "29 September 2026", "t", "2026-09-29", ""),
    ("a true date", "eventDate", "2026-09-29", "d", "2026-09-29", ""),
    ("a day in the standard form, as it was suggested", "eventDate", "2026-09-29", "t", "2026-09-29", ""),
    ("a month", "eventDate", "Sept 2026", "t", "2026-09", ""),
    ("a day that may be two", "eventDate", "3/9/2026", "t", "3/9/2026", "two-readings"),
    ("a day that no calendar has", "eventDate", "31/9/2026", "t", "31/9/2026", "not-in-calendar"),
    ("words that are no day", "eventDate", "next week", "t", "next week", "not-a-day"),
    ("a word of the list in French", "sex", "Mâle", "t", "male", ""),
    ("a word that is still unsure", "sex", "F?", "t", "F?", "unsure"),
    ("a code in small letters", "tagCode", "ab 0021", "t", "AB0021", ""),
    ("a code of another shape", "tagCode", "AB21", "t", "AB21", "another-shape"),
    ("a decimal comma", "decimalLatitude", "45,9", "t", "45.9", ""),
    ("degrees and minutes", "decimalLatitude", "45°30'N", "t", "45.5000000", ""),
    ("a name in French", "scientificName", "monarque", "t", "Danaus plexippus", ""),
    ("a measure with its unit", "forewingLength", "51,5 mm", "t", "51.5", ""),
    ("a number", "forewingLength", "51.5", "n", "51.5", ""),
    ("a country", "countryCode", "Canada", "t", "CA", ""),
    ("a town", "municipality", "Amherst", "t", "Amherst", ""),
    ("a word for nothing", "sex", "n/a", "t", "", ""),
]


@pytest.mark.parametrize(
    ("field", "text", "kind", "value", "doubt"), [case[1:] for case in READ], ids=[case[0] for case in READ]
)
def test_another_value_is_read_like_a_typed_one(field: str, text: str, kind: str, value: str, doubt: str) -> None:
    done = answered(rows_of({}), answer(field, text, kind=kind))
    assert cell(done, field)[:4] == (value, text, kind, doubt)
    assert done.at_rest == frozenset()


def test_a_day_with_two_readings_stays_doubtful_and_shows_both() -> None:
    done = answered(rows_of({}), answer("eventDate", "3/9/2026"))
    assert cell(done, "eventDate") == ("3/9/2026", "3/9/2026", "t", "two-readings", "2026-09-03 | 2026-03-09")


def test_an_answered_place_is_read_in_its_senders_language() -> None:
    french = answered(rows_of({}), answer("decimalLongitude", "64°48'O"))
    assert cell(french, "decimalLongitude")[:4] == ("-64.8000000", "64°48'O", "t", "")
    other = answered(rows_of({"person_id": "p2"}), answer("decimalLongitude", "64°48'O"))
    assert cell(other, "decimalLongitude")[3] == "two-readings"


def test_the_settings_say_in_which_order_an_answered_day_is_read() -> None:
    settings = read_settings('[season]\ndate_order = "day-first"\n')
    done = answered(rows_of({}), answer("eventDate", "3/9/2026"), settings=settings)
    assert cell(done, "eventDate") == ("2026-09-03", "3/9/2026", "t", "", "")


def test_a_suggestion_is_put_in_as_it_stands_and_takes_the_doubt_away() -> None:
    before = {
        "eventDate": "3/9/2026",
        "eventDate_doubt": "two-readings",
        "eventDate_candidates": "2026-09-03 | 2026-03-09",
    }
    given = answer("eventDate", "2026-09-03", "suggestion", base_written="3/9/2026", base_value="3/9/2026")
    assert cell(answered(rows_of(before), given), "eventDate") == ("2026-09-03", "2026-09-03", "t", "", "")


def test_what_the_cell_said_and_who_answered_is_told_as_a_change() -> None:
    done = answered(rows_of({"sex": "M?", "sex_written": " M? "}), answer("sex", "Mâle", base_value="M?"))
    assert list(done.changes.columns) == ["field", "seen", "became", "why"]
    assert done.changes.index.tolist() == [40]
    assert done.changes.to_numpy().tolist() == [["sex", " M? ", "male", "answered by p1 (Ref K3H8M2Q)"]]


def test_an_answer_without_a_ref_is_told_without_one() -> None:
    done = answered(rows_of({}), answer("sex", "male", ref="", who="coordinator"))
    assert done.changes["why"].tolist() == ["answered by coordinator"]


def test_an_answer_that_says_what_the_cell_says_is_no_change_but_takes_its_doubt_away() -> None:
    before = {"eventDate": "2026-09-03", "eventDate_written": "3/9/2026", "eventDate_doubt": "two-readings"}
    given = answer("eventDate", "2026-09-03", base_written="3/9/2026", base_value="3/9/2026")
    done = answered(rows_of(before), given)
    assert done.changes.empty and cell(done, "eventDate") == ("2026-09-03", "2026-09-03", "t", "", "")


UNSURE = {"scientificName_doubt": "unsure", "scientificName_candidates": "Danaus plexippus"}
OF_SEVERAL = {
    "scientificName_doubt": "name-of-several",
    "scientificName_candidates": "Danaus plexippus | Danaus gilippus | Danaus eresimus",
}
NOT_KNOWN = [
    ("a day that was read: its month", {"eventDate": "2026-09-14"}, "eventDate", {"eventDate": "2026-09"}),
    ("a day that was not read: the season", {"eventDate": "31/09/2026"}, "eventDate", {"eventDate": SEASON}),
    ("no day: the season", {"eventDate": ""}, "eventDate", {"eventDate": SEASON}),
    ("a month: that month", {"eventDate": "2026-09"}, "eventDate", {"eventDate": "2026-09"}),
    ("days of one month: that month", {"eventDate": "2026-09-03/2026-09-05"}, "eventDate", {"eventDate": "2026-09"}),
    (
        "a species: its genus",
        {"scientificName": "Danaus gilippus"},
        "scientificName",
        {"scientificName": "Danaus"},
    ),
    ("no species: that of the season's", {"scientificName": ""}, "scientificName", {"scientificName": "Danaus"}),
    (
        "a species with a question mark: its genus",
        {"scientificName": "Monarch?", **UNSURE},
        "scientificName",
        {"scientificName": "Danaus"},
    ),
    (
        "a name of several species of one genus: the genus",
        {"scientificName": "milkweed butterfly", **OF_SEVERAL},
        "scientificName",
        {"scientificName": "Danaus"},
    ),
    (
        "a name that is not on the list: as it was, for its genus is not known",
        {"scientificName": "Papillo glauca", "scientificName_doubt": "not-in-list"},
        "scientificName",
        {"scientificName": "Papillo glauca", "scientificName_doubt": "not-in-list"},
    ),
    ("a sex: blank", {"sex": "M?"}, "sex", {"sex": ""}),
    ("a measure: blank", {"forewingLength": "15"}, "forewingLength", {"forewingLength": ""}),
    (
        "a latitude: no point, the town stays",
        {"decimalLatitude": "0", "decimalLongitude": "0", "municipality": "Amherst"},
        "decimalLatitude",
        {"decimalLatitude": "", "decimalLongitude": "", "municipality": "Amherst"},
    ),
    (
        "a longitude: no point either",
        {"decimalLatitude": "45.9", "decimalLongitude": "64.4"},
        "decimalLongitude",
        {"decimalLatitude": "", "decimalLongitude": ""},
    ),
    (
        "a spot: blank, the town stays",
        {"locality": "by the dyke?", "municipality": "Amherst"},
        "locality",
        {"locality": "", "municipality": "Amherst"},
    ),
    ("a tag: as it was", {"tagCode": "AB00"}, "tagCode", {"tagCode": "AB00"}),
]  # fmt: skip


@pytest.mark.parametrize(
    ("before", "field", "after"), [case[1:] for case in NOT_KNOWN], ids=[case[0] for case in NOT_KNOWN]
)
def test_what_nobody_knows_is_said_as_far_as_it_is_known(
    before: dict[str, str], field: str, after: dict[str, str]
) -> None:
    base = {"base_written": before[field], "base_value": before[field]}
    done = answered(rows_of(before), answer(field, choice="unknown", **base))
    assert {name: done.rows.iloc[0][name] for name in after} == after
    assert done.at_rest == frozenset({("k1", field)})


def test_a_blank_that_was_answered_is_a_blank_cell_without_a_doubt() -> None:
    before = {"decimalLatitude": "91", "decimalLatitude_doubt": "off-the-globe", "decimalLongitude": "-64.4"}
    given = answer("decimalLatitude", choice="unknown", base_written="91", base_value="91")
    done = answered(rows_of(before), given)
    assert cell(done, "decimalLatitude") == cell(done, "decimalLongitude") == ("", "", "-", "", "")
    assert done.changes[["field", "seen", "became"]].to_numpy().tolist() == [
        ["decimalLatitude", "91", ""],
        ["decimalLongitude", "-64.4", ""],
    ]


def test_of_a_tag_that_nobody_knows_nothing_is_changed() -> None:
    rows = rows_of({"tagCode": "AB00", "tagCode_doubt": "another-shape"})
    done = answered(rows, answer("tagCode", choice="unknown", base_written="AB00", base_value="AB00"))
    assert done.changes.empty
    pd.testing.assert_frame_equal(done.rows, rows)


HOLDS = [
    ("the cell says the same", "31/09/2026", "31/09/2026", True),
    ("in the sender's words, though we read it otherwise now", "31/09/2026", "2026-10-01", True),
    ("in the standard form, though written otherwise", "Sept 31 2026", "31/09/2026", True),
    ("it says something else", "28/09/2026", "2026-09-28", False),
    ("it is blank now", "", "", False),
]


@pytest.mark.parametrize(("written", "value", "holds"), [case[1:] for case in HOLDS], ids=[case[0] for case in HOLDS])
def test_an_answer_holds_as_long_as_its_cell_says_what_was_asked_about(written: str, value: str, holds: bool) -> None:
    rows = rows_of({"eventDate": value, "eventDate_written": written})
    done = answered(rows, answer("eventDate", "29/09/2026"))
    assert (cell(done, "eventDate")[:2] == ("2026-09-29", "29/09/2026")) is holds
    assert len(done.changes) == holds
    if not holds:
        pd.testing.assert_frame_equal(done.rows, rows)


def test_what_is_not_known_of_an_earlier_value_puts_nothing_to_rest() -> None:
    rows = rows_of({"eventDate": "2026-09-28"})
    done = answered(rows, answer("eventDate", choice="unknown"))
    assert done.at_rest == frozenset() and cell(done, "eventDate")[0] == "2026-09-28"


SEVERAL = [
    (
        "both about what the sheet says",
        [answer("eventDate", "28/09/2026"), answer("eventDate", "29/09/2026")],
        "2026-09-29",
    ),
    (
        "the later about what the earlier made of it",
        [
            answer("eventDate", "28/09/2026"),
            answer("eventDate", "29/09/2026", base_written="28/09/2026", base_value="2026-09-28"),
        ],
        "2026-09-29",
    ),
    (
        "three, each about the one before",
        [
            answer("eventDate", "27/09/2026"),
            answer("eventDate", "28/09/2026", base_written="27/09/2026", base_value="2026-09-27"),
            answer("eventDate", "29/09/2026", base_written="28/09/2026", base_value="2026-09-28"),
        ],
        "2026-09-29",
    ),
    (
        "the later about a value that a newer sheet has taken away",
        [answer("eventDate", "28/09/2026"), answer("eventDate", "29/09/2026", base_written="x", base_value="x")],
        "2026-09-28",
    ),
    (
        "first not known, then known",
        [
            answer("eventDate", choice="unknown"),
            answer("eventDate", "29/09/2026", base_written=SEASON, base_value=SEASON),
        ],
        "2026-09-29",
    ),
    (
        "first known, then not",
        [
            answer("eventDate", "28/09/2026"),
            answer("eventDate", choice="unknown", base_written="28/09/2026", base_value="2026-09-28"),
        ],
        "2026-09",
    ),
]


@pytest.mark.parametrize(("answers", "day"), [case[1:] for case in SEVERAL], ids=[case[0] for case in SEVERAL])
def test_of_several_answers_about_a_cell_the_last_that_holds_counts(answers: list[dict[str, str]], day: str) -> None:
    done = answered(rows_of({}), *answers)
    assert cell(done, "eventDate")[0] == day
    assert bool(done.at_rest) is (answers[-1]["choice"] == "unknown")


def test_answers_about_two_fields_of_a_row_are_both_put_in() -> None:
    done = answered(rows_of({}), answer("eventDate", "29/09/2026"), answer("sex", "male"))
    assert (cell(done, "eventDate")[0], cell(done, "sex")[0]) == ("2026-09-29", "male")


def test_a_pair_of_coordinates_is_exchanged_field_by_field() -> None:
    # A suggestion for two fields is two answers, each with the base of its own cell.
    rows = rows_of({"decimalLatitude": "-64.4", "decimalLongitude": "45.9"})
    done = answered(
        rows,
        answer("decimalLatitude", "45.9", "suggestion", base_written="-64.4", base_value="-64.4"),
        answer("decimalLongitude", "-64.4", "suggestion", base_written="45.9", base_value="45.9"),
    )
    assert (cell(done, "decimalLatitude")[0], cell(done, "decimalLongitude")[0]) == ("45.9", "-64.4")


def test_an_answer_changes_its_own_row_alone() -> None:
    rows = rows_of({"key": "k0"}, {}, {"key": "k2"})
    done = answered(rows, answer("eventDate", "29/09/2026"))
    assert done.rows["eventDate"].tolist() == ["31/09/2026", "2026-09-29", "31/09/2026"]
    assert done.changes.index.tolist() == [41]


NOTHING = [
    ("an answer about a row that is not looked at", [answer("eventDate", "29/09/2026", key="k9")]),
    ("an answer about a field that is none", [answer("sorted_alone", "29/09/2026")]),
    ("no answers", []),
]


@pytest.mark.parametrize("answers", [case[1] for case in NOTHING], ids=[case[0] for case in NOTHING])
def test_what_is_about_nothing_here_changes_nothing(answers: list[dict[str, str]]) -> None:
    rows = rows_of({}, {"key": "k2"})
    done = answered(rows, *answers)
    pd.testing.assert_frame_equal(done.rows, rows)
    assert done.changes.empty and list(done.changes.columns) == ["field", "seen", "became", "why"]
    assert done.at_rest == frozenset()


def test_the_rows_that_were_given_stay_as_they_were() -> None:
    rows = rows_of({})
    before = rows.copy()
    answered(rows, answer("eventDate", "29/09/2026"), answer("sex", choice="unknown"))
    pd.testing.assert_frame_equal(rows, before)


def test_no_rows_take_no_answers() -> None:
    none = rows_of({}).iloc[:0]
    assert answered(none, answer("sex", "male")).rows.empty
    assert put_in(none, nothing(ANSWERS), typed_reader(lists(), Settings()), Settings()).rows.empty


FIELDS = ["eventDate", "sex", "tagCode", "scientificName", "decimalLatitude", "municipality", "forewingLength"]
fields = st.sampled_from(FIELDS)
told: st.SearchStrategy[dict[str, Any]] = st.fixed_dictionaries(
    {
        "key": st.sampled_from(["k1", "k2", "k9"]),
        "choice": st.sampled_from(["other", "suggestion", "unknown"]),
        "kind": st.sampled_from("tnd"),
        "who": st.sampled_from(["p1", "coordinator"]),
        "base_value": st.sampled_from(["", "2026-09-03", "male"]),
    }
)


@tried(max_examples=60, deadline=None)
@given(st.lists(st.tuples(fields, st.text(max_size=12), told), max_size=6))
def test_any_answers_leave_every_row_and_every_cell_that_they_are_not_about(
    given: list[tuple[str, str, dict[str, Any]]],
) -> None:
    rows = rows_of({"eventDate": "2026-09-03", "sex": "male"}, {"key": "k2", "eventDate": "", "sex": ""})
    done = answered(rows, *(answer(field, text, **more) for field, text, more in given))
    assert done.rows.index.equals(rows.index) and list(done.rows.columns) == list(rows.columns)
    about = {(more["key"], field) for field, _, more in given}
    about |= {(key, "decimalLongitude") for key, field in about if field == "decimalLatitude"}
    for key, was, now in zip(rows["key"], rows.to_dict("records"), done.rows.to_dict("records"), strict=True):
        changed = {str(name).split("_")[0] for name in was if was[name] != now[name]}
        assert {(key, field) for field in changed} <= about
    assert {(key, field) for key, field in done.at_rest} <= about
    assert not done.rows.isna().any().any()
    assert set(done.changes["field"]) <= {field for _, field in about}
