"""Records to rows: every cell in standard form, every change told, nothing blanked or guessed."""

from __future__ import annotations

from collections.abc import Sequence

import pandas as pd
import pytest
from hypothesis import given
from hypothesis import settings as tried
from hypothesis import strategies as st

from pipeline.files.schemas import heading_names, lists
from pipeline.frames import Normalised
from pipeline.model import Sheet
from pipeline.settings import Settings, read_settings
from pipeline.stages.gather import gather
from pipeline.stages.map_headings import map_headings
from pipeline.stages.normalise import normalise
from pipeline.values.readers import cell_reader

LISTS = lists()
Cells = Sequence[Sequence[str]]


def read(
    headings: str, cells: Cells, kinds: str = "", settings: str = "", west: frozenset[int] = frozenset()
) -> Normalised:
    """The rows of one sheet whose first column is the tag; `kinds` has a letter for each column."""
    texts = ((f"Tag|{headings}").split("|"), *([f"SM{i:04d}", *line] for i, line in enumerate(cells, 1)))
    of_row = "t" + (kinds or "t" * (headings.count("|") + 1))
    stored = tuple("".join(k if cell else "-" for k, cell in zip(of_row, row, strict=True)) for row in texts)
    return normalised(texts, ("t" * len(texts[0]), *stored[1:]), settings, west)


def normalised(
    texts: Cells, kinds: Sequence[str], settings: str = "", west: frozenset[int] = frozenset()
) -> Normalised:
    sheet = Sheet("p1/a.xlsx", "ab" * 32, "Tags", tuple(tuple(row) for row in texts), tuple(kinds))
    records = gather(map_headings(sheet, heading_names()))
    return normalise(records, LISTS, read_settings(settings) if settings else Settings(), west)


def column(headings: str, field: str, texts: Sequence[str], **more: str) -> tuple[list[str], list[str]]:
    """What a column of texts becomes, and the doubts."""
    rows = read(headings, [[text] for text in texts], **more).rows
    return rows[field].tolist(), rows[f"{field}_doubt"].tolist()


# Day order, DESIGN 7.4: only the calendar settles it, a text date of that column with a number over 12.
ORDERS = [
    ("proven day-first", ["3/9/2026", "25/9/2026"], "", ["2026-09-03", "2026-09-25"]),
    ("proven month-first", ["3/9/2026", "9/25/2026"], "", ["2026-03-09", "2026-09-25"]),
    ("proven both ways", ["3/9/2026", "25/9/2026", "9/25/2026"], "", ["3/9/2026", "2026-09-25", "2026-09-25"]),
    ("not proven", ["3/9/2026", "4/9/2026"], "", ["3/9/2026", "4/9/2026"]),
    ("not proven, settings day-first", ["3/9/2026"], "day-first", ["2026-09-03"]),
    ("not proven, settings month-first", ["3/9/2026"], "month-first", ["2026-03-09"]),
    ("proven against the settings", ["3/9/2026", "25/9/2026"], "month-first", ["2026-09-03", "2026-09-25"]),
    (
        "proven both ways, with a setting",
        ["3/9/26", "25/9/26", "9/25/26"],
        "day-first",
        ["3/9/26", *["2026-09-25"] * 2],
    ),
    ("a month in words proves nothing", ["3/9/2026", "25 Sept 2026"], "", ["3/9/2026", "2026-09-25"]),
]


@pytest.mark.parametrize(("texts", "order", "days"), [case[1:] for case in ORDERS], ids=[case[0] for case in ORDERS])
def test_the_order_of_day_and_month_is_settled_by_the_column(texts: list[str], order: str, days: list[str]) -> None:
    settings = f'[season]\ndate_order = "{order}"\n' if order else ""
    assert column("Date", "eventDate", texts, settings=settings)[0] == days


def test_a_column_that_proves_both_orders_is_asked_about() -> None:
    rows = read("Date", [["3/9/2026"], ["25/9/2026"], ["9/25/2026"]]).rows
    assert rows["eventDate_doubt"].tolist() == ["two-readings", "", ""]
    assert rows["eventDate_candidates"].tolist()[0] == "2026-09-03 | 2026-03-09"


def test_a_column_says_nothing_about_the_order_of_another_one() -> None:
    rows = read("Date|Date of capture", [["3/9/2026", "25/8/2026"], ["4/9/2026", "2/9/2026"]]).rows
    assert rows["eventDate_doubt"].tolist() == ["two-readings"] * 2
    assert rows["captureDate"].tolist() == ["2026-08-25", "2026-09-02"]


def test_a_table_says_nothing_about_the_order_of_another_one() -> None:
    texts = [
        ["Tag", "Date", "Sex"],
        ["SM0001", "25/9/2026", "F"],
        [],
        ["Tag", "Sex", "Date"],
        ["SM0002", "F", "3/9/2026"],
    ]
    rows = normalised(texts, ["ttt", "ttt", "", "ttt", "ttt"]).rows
    assert rows["table_id"].tolist() == [0, 1]
    assert rows["eventDate_doubt"].tolist() == ["", "two-readings"]


def test_a_true_date_proves_nothing_about_the_texts_beside_it() -> None:
    texts = [["Tag", "Date", "Sex"], ["SM0001", "2026-09-25", "F"], ["SM0002", "3/9/2026", "F"]]
    rows = normalised(texts, ["ttt", "tdt", "ttt"]).rows
    assert rows["eventDate"].tolist() == ["2026-09-25", "3/9/2026"]


@tried(max_examples=40, deadline=None)
@given(st.lists(st.dates(pd.Timestamp("2026-08-01").date(), pd.Timestamp("2026-11-10").date()), min_size=1, max_size=8))
def test_a_column_written_in_one_order_is_never_read_in_the_other(days: list[object]) -> None:
    read_days, doubts = column("Date", "eventDate", [f"{day:%d/%m/%Y}" for day in days])
    for day, text, doubt in zip(days, read_days, doubts, strict=True):
        assert text == f"{day:%Y-%m-%d}" or doubt == "two-readings"


# Values in several columns, or two in one.
PARTS = [
    (
        "a pair in one cell",
        "Coordinates",
        ["45.5, -64.8"],
        {"decimalLatitude": "45.5", "decimalLongitude": "-64.8"},
    ),
    (
        "degrees and minutes in columns",
        "Lat deg|Lat min|Long deg|Long min",
        ["45", "30", "-64", "48"],
        {"decimalLatitude": "45.5000000", "decimalLongitude": "-64.8000000"},
    ),
    (
        "degrees, minutes and seconds in columns",
        "Lat deg|Lat min|Lat sec|Long deg|Long min|Long sec",
        ["43", "39", "12", "-79", "22", "48"],
        {"decimalLatitude": "43.6533333", "decimalLongitude": "-79.3800000"},
    ),
    (
        "west in the heading of the degrees",
        "Lat deg|Lat min|Long deg (W)|Long min",
        ["45", "30", "64", "48"],
        {"decimalLongitude": "-64.8000000"},
    ),
    (
        "west in a column of its own",
        "Lat deg|Lat min|Long deg|Long min|E/W",
        ["45", "30", "64", "48", "W"],
        {"decimalLongitude": "-64.8000000"},
    ),
    ("west in the heading", "Latitude|Longitude (W)", ["45.5", "64.8"], {"decimalLongitude": "-64.8"}),
    (
        "a minus under a heading that says west",
        "Latitude|Longitude (W)",
        ["45.5", "-64.8"],
        {"decimalLongitude": "-64.8"},
    ),
    ("south in the heading", "Latitude (S)|Longitude", ["5.5", "-64.8"], {"decimalLatitude": "-5.5"}),
    ("O in the heading", "Latitude|Longitude (O)", ["45.5", "64.8"], {"decimalLongitude": "-64.8"}),
    ("day, month, year", "Day|Month|Year", ["3", "9", "2026"], {"eventDate": "2026-09-03"}),
    ("a month in words", "Day|Month|Year", ["3", "Sept", "2026"], {"eventDate": "2026-09-03"}),
    ("a month without a day", "Day|Month|Year", ["", "9", "2026"], {"eventDate": "2026-09"}),
    ("no day at all", "Day|Month|Year", ["", "", ""], {"eventDate": ""}),
]


@pytest.mark.parametrize(("headings", "cells", "values"), [case[1:] for case in PARTS], ids=[case[0] for case in PARTS])
def test_values_in_parts_are_put_together(headings: str, cells: list[str], values: dict[str, str]) -> None:
    rows = read(headings, [cells]).rows
    assert {field: rows[field].tolist()[0] for field in values} == values


def test_letters_and_digits_of_a_code_are_put_together() -> None:
    rows = normalised([["Prefix", "Number", "Date"], ["SM", "0042", "2026-09-03"]], ["ttt", "ttt"]).rows
    assert rows["tagCode"].tolist() == ["SM0042"]


def test_a_cell_of_its_own_goes_before_the_parts() -> None:
    rows = read("Latitude|Longitude|Coordinates", [["45.6", "", "45.5, -64.8"], ["", "", "45.7, -64.9"]]).rows
    assert rows["decimalLatitude"].tolist() == ["45.6", "45.7"]
    assert rows["decimalLongitude"].tolist() == ["-64.8", "-64.9"]


def test_parts_that_cannot_be_read_stay_as_typed() -> None:
    rows = read("Lat deg|Lat min|Long deg (W)|Long min", [["45", "61.5", "64", "99"]]).rows
    assert rows["decimalLatitude"].tolist() == rows["decimalLatitude_written"].tolist() == ["45 61.5"]
    assert rows["decimalLongitude"].tolist() == rows["decimalLongitude_written"].tolist() == ["64 99"]
    assert rows["decimalLongitude_doubt"].tolist() == ["minutes-over-59"]


def test_parts_are_shown_with_single_blanks_between_them() -> None:
    rows = read("Lat deg|Lat min|Lat sec|N/S|Longitude", [["45", "", "", "N", "-64.8"]]).rows
    assert rows["decimalLatitude_written"].tolist() == ["45 N"]
    assert rows["decimalLatitude"].tolist() == ["45"]


def test_a_grid_position_is_read_from_its_columns() -> None:
    # 20T 400000 5090000 is 45.9562849, -64.2904381 by PROJ.
    rows = read("UTM zone|Easting|Northing", [["20T", "400000", "5090000"], ["20T", "400000", "50900"]]).rows
    assert rows["decimalLatitude"].tolist() == ["45.9562849", "20T 400000 50900"]
    assert rows["decimalLongitude"].tolist() == ["-64.2904381", "20T 400000 50900"]
    assert rows["decimalLatitude_doubt"].tolist() == ["", "not-a-number"]
    assert rows["decimalLatitude_written"].tolist() == ["20T 400000 5090000", "20T 400000 50900"]
    rows = read("MGRS", [["20TLS0012345678"]]).rows
    assert rows["decimalLongitude_doubt"].tolist() == [""]


# Whose language it is, and what the settings say of a longitude without sign or letter.
WEST = [
    ("O of a French or Spanish sender", "64.8 O", True, "", "-64.8", ""),
    ("O of anybody else", "64.8 O", False, "", "64.8 O", "two-readings"),
    ("O in a pair of a French sender", "45°30'N 64°48'O", True, "", "-64.8000000", ""),
    ("no letter, settings ask", "64.8", False, "ask", "64.8", ""),
    ("no letter, settings east", "64.8", False, "east", "64.8", ""),
    ("no letter, settings west", "64.8", False, "west", "-64.8", ""),
    ("a minus, settings west", "-64.8", False, "west", "-64.8", ""),
    ("an E, settings west", "64.8 E", False, "west", "64.8 E", "sign-against-letter"),
]


@pytest.mark.parametrize(
    ("text", "is_west", "unsigned", "value", "doubt"), [case[1:] for case in WEST], ids=[case[0] for case in WEST]
)
def test_west_is_read_as_the_sender_writes_it(text: str, is_west: bool, unsigned: str, value: str, doubt: str) -> None:
    heading = "Coordinates" if "N" in text else "Longitude"
    settings = f'[region]\nunsigned_longitude = "{unsigned}"\n' if unsigned else ""
    rows = read(heading, [[text]], settings=settings, west=frozenset({0} if is_west else ())).rows
    assert rows["decimalLongitude"].tolist() == [value]
    assert rows["decimalLongitude_doubt"].tolist() == [doubt]


def test_a_pair_without_a_sign_is_west_where_the_settings_say_so() -> None:
    rows = read("Coordinates", [["45.5, 64.8"]], settings='[region]\nunsigned_longitude = "west"\n').rows
    assert rows[["decimalLatitude", "decimalLongitude"]].to_numpy().tolist() == [["45.5", "-64.8"]]


# Exact by definition: NIST Special Publication 811 (inch 25.4 mm, foot 0.3048 m).
UNITS = [
    ("mm in the heading", "Forewing (mm)", "forewingLength", "51.5", "51.5"),
    ("cm in the heading", "Forewing (cm)", "forewingLength", "5.2", "52"),
    ("cm in the heading, mm in the cell", "Forewing (cm)", "forewingLength", "52 mm", "52"),
    ("inches in the heading", "Forewing (in)", "forewingLength", "2", "50.8"),
    ("no unit at all", "Forewing", "forewingLength", "51.50", "51.50"),
    ("mg in the heading", "Mass (mg)", "bodyMass", "512", "0.512"),
    ("feet in the heading", "Elevation (ft)", "minimumElevationInMeters", "100", "30.48"),
    ("a comma", "Forewing (mm)", "forewingLength", "51,5", "51.5"),
]


@pytest.mark.parametrize(
    ("heading", "field", "text", "value"), [case[1:] for case in UNITS], ids=[case[0] for case in UNITS]
)
def test_a_unit_in_the_heading_holds_for_its_cells(heading: str, field: str, text: str, value: str) -> None:
    assert column(heading, field, [text]) == ([value], [""])


def test_what_is_said_once_above_the_table_is_read_like_a_cell() -> None:
    texts = [["Province:", "N.-B."], ["Tag", "Date", "Sex"], ["SM0001", "2026-09-03", "F"]]
    rows = normalised(texts, ["tt", "ttt", "ttt"]).rows
    assert rows["stateProvince"].tolist() == ["New Brunswick"]
    assert rows["stateProvince_written"].tolist() == ["N.-B."]


DAMAGED = [
    ("an error cell", "e", "#N/A", "error-cell"),
    ("a formula without its result", "f", "=A1+1", "formula"),
    ("an error cell that looks like a value", "e", "51.5", "error-cell"),
]


@pytest.mark.parametrize("heading", ["Forewing (mm)", "Date", "Sex", "Town", "Latitude"])
@pytest.mark.parametrize(("kind", "text", "doubt"), [case[1:] for case in DAMAGED], ids=[case[0] for case in DAMAGED])
def test_a_damaged_cell_stays_as_it_is_and_is_told(heading: str, kind: str, text: str, doubt: str) -> None:
    field = {"Forewing (mm)": "forewingLength", "Date": "eventDate", "Sex": "sex", "Town": "municipality"}
    rows = read(heading, [[text]], kinds=kind).rows
    name = field.get(heading, "decimalLatitude")
    assert (rows[name].tolist(), rows[f"{name}_doubt"].tolist()) == ([text], [doubt])


def test_a_damaged_tag_cell_is_told_though_its_text_has_the_shape_of_a_code() -> None:
    rows = normalised([["Tag", "Date", "Sex"], ["SM0001", "2026-09-03", "F"]], ["ttt", "ftt"]).rows
    assert rows["tagCode_doubt"].tolist() == ["formula"]


CHANGES = [
    ("a word", "Sex", "Mâle", "sex", "male"),
    ("a tag's blanks", "Étiquette", "sm 0042", "tagCode", "SM0042"),
    ("a day", "Date", "3 Sept 2026", "eventDate", "2026-09-03"),
    ("a position", "Latitude", "45°30'N", "decimalLatitude", "45.5000000"),
    ("a country", "Country", "Canada", "countryCode", "CA"),
    ("a state", "Province", "NB", "stateProvince", "New Brunswick"),
    ("a word for nothing", "Sex", "n/a", "sex", ""),
    ("no country", "Country", "unknown", "countryCode", ""),
    ("no state", "Province", "-", "stateProvince", ""),
]


@pytest.mark.parametrize(
    ("heading", "seen", "field", "became"), [case[1:] for case in CHANGES], ids=[case[0] for case in CHANGES]
)
def test_every_change_is_told_with_its_reason(heading: str, seen: str, field: str, became: str) -> None:
    texts = [["Hour", heading, "Notes"], ["", seen, "x"]]
    texts = (
        [["Tag", *texts[0]], ["SM0001", *texts[1]]]
        if field != "tagCode"
        else [["Date", *texts[0]], ["2026-09-03", *texts[1]]]
    )
    done = normalised(texts, ["tttt", "t-tt"])
    (change,) = done.changes[done.changes["field"] == field].to_dict("records")
    assert (change["seen"], change["became"]) == (seen, became)
    assert change["why"]
    assert done.rows[field].tolist() == [became]


def test_a_combined_cell_that_changes_gives_a_line_for_each_coordinate() -> None:
    changes = read("Coordinates", [["45.5, -64.8"]]).changes
    assert changes[["field", "seen", "became"]].to_numpy().tolist() == [
        ["decimalLatitude", "45.5, -64.8", "45.5"],
        ["decimalLongitude", "45.5, -64.8", "-64.8"],
    ]


def test_a_change_stands_on_the_row_in_which_it_was_made() -> None:
    done = read("Sex", [["male"], ["M"], ["female"]])
    assert done.changes.index.tolist() == [1]
    assert done.changes["became"].tolist() == ["male"]


def test_cells_in_standard_form_and_blank_cells_are_no_change() -> None:
    done = read("Date|Sex|Latitude", [["2026-09-03", "male", "45.50"], ["", " ", ""]])
    assert done.changes.empty
    assert done.rows["decimalLatitude"].tolist() == ["45.50", ""]


UNREAD = [
    ("a day", "Date", "eventDate", "soon", "not-a-day"),
    ("a day out of the calendar", "Date", "eventDate", "31/9/2026", "not-in-calendar"),
    ("a sex in doubt", "Sex", "sex", "F?", "unsure"),
    ("a word not in the list", "Sex", "sex", "butterfly", "not-in-list"),
    ("a measure", "Forewing (mm)", "forewingLength", "big", "not-a-number"),
    ("a measure under a foreign unit", "Forewing (cm)", "forewingLength", "about 5", "approximate"),
    ("a latitude", "Latitude", "decimalLatitude", "by the gate", "not-a-number"),
    ("a latitude off the globe", "Latitude", "decimalLatitude", "95.5", "off-the-globe"),
    ("a pair", "Coordinates", "decimalLongitude", "by the gate", "not-a-number"),
    ("a country", "Country", "countryCode", "Canadda", "not-in-list"),
    ("a state", "Province", "stateProvince", "Nowhere", "not-in-list"),
    ("a time", "Time", "eventTime", "noonish", "not-a-time"),
    ("a species", "Species", "scientificName", "Zzzz qqqq", "not-in-list"),
]


@pytest.mark.parametrize(
    ("heading", "field", "text", "doubt"), [case[1:] for case in UNREAD], ids=[case[0] for case in UNREAD]
)
def test_a_cell_that_cannot_be_read_stays_as_typed(heading: str, field: str, text: str, doubt: str) -> None:
    done = read(heading, [[text]])
    assert done.rows[field].tolist() == done.rows[f"{field}_written"].tolist() == [text]
    assert done.rows[f"{field}_doubt"].tolist() == [doubt]
    assert done.changes[done.changes["field"] == field].empty


def test_a_state_whose_name_several_have_is_asked_about() -> None:
    several = next(spelling for spelling, found in LISTS.states.items() if len({one.name for one in found}) > 1)
    rows = read("Province", [[several]]).rows
    assert rows["stateProvince"].tolist() == [several]
    assert rows["stateProvince_doubt"].tolist() == ["name-of-several"]
    assert " | " in rows["stateProvince_candidates"].tolist()[0]


# Cells that look like standard form are not read at all; that must never change what comes of them.
@pytest.mark.parametrize("kind", ["t", "n"])
@pytest.mark.parametrize(
    ("heading", "field", "text"),
    [
        ("Latitude", "decimalLatitude", "90"), ("Latitude", "decimalLatitude", "-0.5"),
        ("Latitude", "decimalLatitude", "90.5"), ("Latitude", "decimalLatitude", "-91"),
        ("Longitude", "decimalLongitude", "180"), ("Longitude", "decimalLongitude", "180.1"),
        ("Longitude", "decimalLongitude", "-179.99"), ("Longitude", "decimalLongitude", "99.5"),
        ("Forewing (mm)", "forewingLength", "051"), ("Mass (g)", "bodyMass", "0.51"),
        ("Mass (g)", "bodyMass", ".51"),
    ],
)  # fmt: skip
def test_a_plain_cell_comes_to_the_same_as_one_that_was_read(heading: str, field: str, text: str, kind: str) -> None:
    described = next(one for one in LISTS.fields if one.name == field)
    context = "//" if field.startswith("decimal") else ""
    reading = cell_reader(described, LISTS, Settings())(text, kind, context)
    rows = read(heading, [[text]], kinds=kind).rows
    assert rows[field].tolist() == [reading.value]
    assert rows[f"{field}_doubt"].tolist() == [reading.doubt]


CHECKED = '[tags]\npattern = "[0-9]{4}"\ncheck_character = "iso7064-mod11-2"\n'


def test_a_check_character_is_looked_at_and_left_off() -> None:
    rows = normalised([["Tag", "Date"], ["07940", "2026-09-03"], ["07941", "2026-09-03"]], ["tt"] * 3, CHECKED).rows
    assert rows["tagCode"].tolist() == ["0794", "07941"]
    assert rows["tagCode_doubt"].tolist() == ["", "check-character"]


def test_every_field_has_its_five_columns_also_where_no_table_has_it() -> None:
    rows = read("Sex", [["F"]]).rows
    for field in LISTS.fields:
        for aspect in ("", "_written", "_kind", "_doubt", "_candidates"):
            assert isinstance(rows[field.name + aspect].dtype, pd.StringDtype)
    assert rows["wingSpan"].tolist() == [""] and rows["wingSpan_kind"].tolist() == ["-"]


def test_no_fields_and_no_tables_come_to_nothing() -> None:
    bare = normalise(gather([]), LISTS._replace(fields=()), Settings())
    assert bare.rows.empty and bare.changes.empty
    assert normalise(gather([]), LISTS, Settings()).rows.empty


@tried(max_examples=40, deadline=None)
@given(st.text(st.characters(codec="utf-8", exclude_characters="\x00"), max_size=12))
def test_no_cell_is_blanked_without_a_change_that_says_so(text: str) -> None:
    done = read("Sex|Date|Town|Latitude", [[text] * 4])
    for field in ("sex", "eventDate", "municipality", "decimalLatitude"):
        cells = zip(done.rows[field], done.rows[f"{field}_written"], strict=True)
        for value, written in cells:
            assert value or not written or field in done.changes["field"].tolist()
