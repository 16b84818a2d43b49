"""The headings that taggers type, and the tables that stand on their sheets."""

from __future__ import annotations

import csv
from importlib.resources import files
from io import StringIO

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pipeline.model import Sheet, Table
from pipeline.stages.map_headings import map_headings
from pipeline.values.heading import HeadingNames, heading_names, match_heading
from pipeline.values.text import tidy


def _lines(name: str) -> list[dict[str, str]]:
    return list(csv.DictReader(StringIO((files("schemas") / name).read_text(encoding="utf-8"))))


SPELLINGS = _lines("headings.csv")
FIELDS = _lines("fields.csv")
PARTS = [
    *("coordinates", "latitudeDegrees", "latitudeMinutes", "latitudeSeconds", "latitudeHemisphere"),
    *("longitudeDegrees", "longitudeMinutes", "longitudeSeconds", "longitudeHemisphere"),
    *("easting", "northing", "utmZone", "mgrs", "day", "month", "year", "tagLetters", "tagDigits"),
]
NAMES: HeadingNames = heading_names(SPELLINGS, FIELDS)


def sheet_of(text: str, kinds: tuple[str, ...] | None = None) -> Sheet:
    """A sheet from lines with `|` between cells; an empty line is an empty row."""
    texts = tuple(tuple(cell.strip() for cell in line.split("|")) for line in text.strip("\n").split("\n"))
    stored = kinds or tuple("".join("t" if cell else "-" for cell in row) for row in texts)
    return Sheet("a.csv", "0" * 64, "", texts, stored)


def tables_of(text: str) -> tuple[Table, ...]:
    return map_headings(sheet_of(text), NAMES)


def fields_of(table: Table) -> list[str]:
    return [heading.field for heading in table.headings]


# Written before schemas/headings.csv, from the kinds of heading counted on public field sheets
# (title case, stray blanks, units and keys in brackets, questions) and from memory of school sheets.
WRITTEN = [
    ("Tag #", "tagCode", ""),
    ("tag no.", "tagCode", ""),
    ("Tag Number ", "tagCode", ""),
    ("TAG", "tagCode", ""),
    ("Tag ID", "tagCode", ""),
    ("Code", "tagCode", ""),
    ("Sticker #", "tagCode", ""),
    ("N° d'étiquette", "tagCode", ""),
    ("Nº étiquette", "tagCode", ""),
    ("No de l’étiquette", "tagCode", ""),
    ("Étiquette", "tagCode", ""),
    ("Code de l'étiquette", "tagCode", ""),
    ("Etiqueta", "tagCode", ""),
    ("Código", "tagCode", ""),
    ("Núm. de etiqueta", "tagCode", ""),
    ("What is the code on the tag?", "tagCode", ""),
    ("tagCode", "tagCode", ""),
    ("tag_code", "tagCode", ""),
    ("fields__oSets__oPoints__location__coords__latitude", "decimalLatitude", ""),
    ("release.tagCode", "tagCode", ""),
    ("Tag / Étiquette", "tagCode", ""),
    ("Tag letters", "tagLetters", ""),
    ("Date ", "eventDate", ""),
    ("Release Date:", "eventDate", "release"),
    ("Date of release", "eventDate", "release"),
    ("date released", "eventDate", "release"),
    ("Date tagged", "eventDate", "release"),
    ("Date du lâcher", "eventDate", "release"),
    ("Fecha", "eventDate", ""),
    ("Fecha de liberación", "eventDate", "release"),
    ("Date found", "eventDate", "find"),
    ("When?", "eventDate", ""),
    ("Date (mm/dd/yyyy)", "eventDate", "m/d/y"),
    ("Date (JJ/MM/AAAA)", "eventDate", "d/m/y"),
    ("eventDate", "eventDate", ""),
    ("dwc:eventDate", "eventDate", ""),
    ("Date caught", "captureDate", ""),
    ("Date d'émergence", "emergenceDate", ""),
    ("Time", "eventTime", ""),
    ("Time of release", "eventTime", "release"),
    ("Heure", "eventTime", ""),
    ("Hora", "eventTime", ""),
    ("Month", "month", ""),
    ("Mois", "month", ""),
    ("Año", "year", ""),
    ("Sex", "sex", ""),
    ("sex (M/F/IND)", "sex", ""),
    ("M/F", "sex", ""),
    ("Male or Female?", "sex", ""),
    ("Sexe (M/F)", "sex", ""),
    ("Sexo", "sex", ""),
    ("Where?", "locality", ""),
    ("Location", "locality", ""),
    ("Release site", "locality", "release"),
    ("Lieu du lâcher", "locality", "release"),
    ("Endroit", "locality", ""),
    ("Lugar", "locality", ""),
    ("Town", "municipality", ""),
    ("City/Town", "municipality", ""),
    ("Ville", "municipality", ""),
    ("Municipio", "municipality", ""),
    ("Prov.", "stateProvince", ""),
    ("State/Province", "stateProvince", ""),
    ("Estado", "stateProvince", ""),
    ("Country", "countryCode", ""),
    ("Pays", "countryCode", ""),
    ("País", "countryCode", ""),
    ("County", "county", ""),
    ("Lat.", "decimalLatitude", ""),
    ("Latitude (N)", "decimalLatitude", "N"),
    ("Long (W)", "decimalLongitude", "W"),
    ("Longitude W", "decimalLongitude", "W"),
    ("Longitud (O)", "decimalLongitude", "O"),
    ("coord.W", "decimalLongitude", "W"),
    ("GPS", "coordinates", ""),
    ("Coordonnées GPS", "coordinates", ""),
    ("Lat/Long", "coordinates", ""),
    ("Lat deg", "latitudeDegrees", ""),
    ("Long min", "longitudeMinutes", ""),
    ("UTM Zone", "utmZone", ""),
    ("Easting", "easting", ""),
    ("MGRS", "mgrs", ""),
    ("Elevation (ft)", "minimumElevationInMeters", "ft"),
    ("Altitude (m)", "minimumElevationInMeters", "m"),
    ("Accuracy (m)", "coordinateUncertaintyInMeters", "m"),
    ("Released by", "recordedBy", "release"),
    ("Tagger", "recordedBy", ""),
    ("Observer(s)", "recordedBy", ""),
    ("Found by", "recordedBy", "find"),
    ("Nom", "recordedBy", ""),
    ("Observateur", "recordedBy", ""),
    ("Wing (in)", "forewingLength", "in"),
    ("Forewing length (mm)", "forewingLength", "mm"),
    ("Wing length mm", "forewingLength", "mm"),
    ("Longueur de l'aile (mm)", "forewingLength", "mm"),
    ("Wingspan (cm)", "wingSpan", "cm"),
    ("Body Mass (g)", "bodyMass", "g"),
    ("Weight", "bodyMass", ""),
    ("Poids", "bodyMass", ""),
    ("Peso (mg)", "bodyMass", "mg"),
    ("Wear (1-5)", "wingWear", ""),
    ("Condition", "condition", ""),
    ("Wild or reared?", "origin", ""),
    ("Sauvage / élevé", "origin", ""),
    ("Notes", "occurrenceRemarks", ""),
    ("Remarques", "occurrenceRemarks", ""),
    ("Observaciones", "occurrenceRemarks", ""),
    ("Temp (C)", "kept", ""),
    ("Weather", "kept", ""),
    ("Météo", "kept", ""),
    ("Grade", "kept", ""),
    ("Nectar plant", "nectarPlant", ""),
    ("Species", "scientificName", ""),
    ("Espèce", "scientificName", ""),
    ("Parasites?", "parasiteCheck", ""),
    ("Postal code", "postalCode", ""),
    ("E-mail", "contact", ""),
    ("How many?", "individualCount", ""),
    ("Alive or dead?", "vitality", ""),
]


@pytest.mark.parametrize(("written", "field", "hint"), WRITTEN, ids=[case[0] for case in WRITTEN])
def test_a_heading_that_somebody_would_type_is_known(written: str, field: str, hint: str) -> None:
    match = match_heading(written, NAMES)
    assert (match.field, match.hint) == (field, hint)


NEAR = [
    ("Tag nubmer", "tagCode", ""),
    ("Relase date", "eventDate", "release"),
    ("Date fuond", "eventDate", "find"),
    ("Lattitude", "decimalLatitude", ""),
    ("Longtitude (W)", "decimalLongitude", "W"),
    ("Locaton", "locality", ""),
    ("Coutry", "countryCode", ""),
    ("Conty", "county", ""),
    ("Etiqueta númer", "tagCode", ""),
    ("Commentaries", "occurrenceRemarks", ""),
]


@pytest.mark.parametrize(("written", "field", "hint"), NEAR, ids=[case[0] for case in NEAR])
def test_a_heading_with_a_slip_is_near_enough(written: str, field: str, hint: str) -> None:
    match = match_heading(written, NAMES)
    assert (match.field, match.hint, match.is_exact) == (field, hint, False)


GUESSED = [
    ("Tag 2", "tagCode"),  # figures are no slips: a second tag is another column
    ("date_3", "eventDate"),
    ("No.", "tagCode"),  # as often the number of the line
    ("Number", "tagCode"),
    ("Please type the tag number that you see", "tagCode"),
    ("Nombre", "recordedBy"),  # a name in Spanish, a number in French
    ("Wing", "forewingLength"),
    ("Female", "sex"),
    ("Number utagged", "untaggedSeen"),  # as near to the number tagged
    ("Hindwing length", "forewingLength"),
    ("record_id", "recordKind"),  # seen on a public sheet; one letter off, yet another word
    ("Release data", "eventDate"),
    ("Zone", "utmZone"),
]


@pytest.mark.parametrize(("written", "guess"), GUESSED, ids=[case[0] for case in GUESSED])
def test_a_heading_that_may_mean_something_else_is_only_guessed(written: str, guess: str) -> None:
    match = match_heading(written, NAMES)
    assert (match.field, match.guess) == ("", guess)


@pytest.mark.parametrize("written", ["Favourite pizza", "Gruppe", "Zxqv", "#", "tga", "sx"])
def test_an_unknown_heading_is_neither_taken_nor_guessed(written: str) -> None:
    assert match_heading(written, NAMES)[:3] == ("", "", "")


def test_a_condition_is_never_taken_for_wear() -> None:
    for written in (
        "Condition",
        "Wing condition",
        "Condition (1-5)",
        "État des ailes",
        "Condición",
        "Conditon",
    ):
        assert match_heading(written, NAMES).field == "condition"


@pytest.mark.parametrize("field", [line["field"] for line in FIELDS] + PARTS)
def test_a_field_and_a_part_are_known_by_their_own_name(field: str) -> None:
    assert match_heading(field, NAMES)[:2] == (field, "")


def test_there_are_hundreds_of_spellings_in_three_languages_and_none_stands_twice() -> None:
    tidied = [tidy(line["written"]) for line in SPELLINGS]
    fields = {line["field"] for line in FIELDS} | set(PARTS)
    assert all(tidied)
    assert len(set(tidied)) == len(tidied)
    assert {line["field"] for line in SPELLINGS} == fields | {"kept"}
    for language in ("en", "fr", "es"):
        assert sum(line["language"] == language and line["field"] in fields for line in SPELLINGS) >= 300


def test_two_headings_for_one_field_are_never_both_taken() -> None:
    (table,) = tables_of("Tag|Date|Released on|Sex\nSM0001|2026-09-03|2026-09-04|M")
    assert fields_of(table) == ["tagCode", "eventDate", "", "sex"]
    assert table.headings[2].guess == "eventDate"


def test_the_heading_known_to_the_letter_goes_before_the_near_one() -> None:
    (table,) = tables_of("Tag|Locaton|Place|Date\nSM0001|by the gate|Marsh Road|2026-09-03")
    assert fields_of(table) == ["tagCode", "", "locality", "eventDate"]
    assert table.headings[1].guess == "locality"


def test_a_guess_at_a_field_that_has_its_column_is_dropped() -> None:
    (table,) = tables_of("No.|Tag|Date|Place\n1|SM0001|2026-09-03|Marsh Road")
    assert [(h.field, h.guess) for h in table.headings][:2] == [("", ""), ("tagCode", "")]


DAYS = [
    ("Tag|Day|Place", ["tagCode", "eventDate", "locality"]),
    ("Tag|Day|Date|Place", ["tagCode", "kept", "eventDate", "locality"]),
    ("Tag|Day|Month|Year|Place", ["tagCode", "day", "month", "year", "locality"]),
    ("Étiquette|Jour|Mois|Lieu", ["tagCode", "day", "month", "locality"]),
    ("Letters|Number|Date|Place", ["tagLetters", "tagDigits", "eventDate", "locality"]),
]


@pytest.mark.parametrize(("heading", "fields"), DAYS, ids=[case[0] for case in DAYS])
def test_a_heading_is_understood_by_those_beside_it(heading: str, fields: list[str]) -> None:
    (table,) = tables_of(f"{heading}\na|b|c|d|e")
    assert fields_of(table)[: len(fields)] == fields


STANDING = {
    "at the top": ("Tag|Date|Place\nSM0001|2026-09-03|Marsh Road", 1, 2, 2),
    "under a title and a blank row": ("Our butterflies 2026\n\nTag|Date|Place\nSM0001|3 Sept|Marsh", 3, 4, 4),
    "under labels in pairs": ("Name:|Anna|Town:|Truro\nTag|Date|Place\nSM0001|3 Sept|Marsh", 2, 3, 3),
    "under labels left empty": ("Name:|Town:|Date:\n\nTag|Date|Sex|Place\nSM0001|3 Sept|F|Marsh", 3, 4, 4),
    "in French": ("Papillons de la classe\nÉtiquette|Date du lâcher|Sexe\nSM0001|3 sept.|F", 2, 3, 3),
    "in Spanish": ("Etiqueta|Fecha|Lugar|Hembra/Macho\nSM0001|3 sept.|El prado|H", 1, 2, 2),
    "with few known headings": ("Tag|Date|Blah|Zzz|Qqq\nSM0001|3 Sept|1|2|3", 1, 2, 2),
    "with mostly unknown headings": (
        "study|Sample|Species|Island|Stage|ID|Clutch|Culmen|Depth|Flipper|Sex|D15|D13|Q1|Q2|Q3\na|b|c|d",
        *(1, 2, 2),
    ),
    "with slips in every heading": ("Tagg number|Dat of release|Locaton\nSM0001|3 Sept|Marsh", 1, 2, 2),
    "with a blank row right under it": ("Tag|Date|Place\n\nSM0001|3 Sept|Marsh", 1, 2, 3),
    "with blank rows after the last": ("Tag|Date|Place\nSM0001|3 Sept|Marsh\n||\n||", 1, 2, 2),
    "without any row": ("Tag|Date|Place", 1, 2, 1),
    "in one column": ("Tags\nSM0001\nSM0002", 1, 2, 3),
}


@pytest.mark.parametrize(("text", "heading", "first", "last"), STANDING.values(), ids=STANDING.keys())
def test_the_table_is_found_where_it_stands(text: str, heading: int, first: int, last: int) -> None:
    (table,) = tables_of(text)
    assert (table.number, table.heading_row, table.first_row, table.last_row) == (1, heading, first, last)


def test_columns_are_counted_from_the_sheets_first() -> None:
    (table,) = tables_of("||\n|Tag|Date|Place\n|SM0001|3 Sept|Marsh")
    assert [heading.column for heading in table.headings] == [1, 2, 3]


def test_a_column_without_a_heading_is_listed_where_it_holds_something() -> None:
    (table,) = tables_of("|Tag||Date|Place\n1|SM0001||3 Sept|Marsh|late")
    assert [(h.column, h.written) for h in table.headings] == [
        (0, ""),
        (1, "Tag"),
        (3, "Date"),
        (4, "Place"),
        (5, ""),
    ]


NO_TABLE = {
    "nothing": "",
    "a letter": "Dear all\nthank you for the tags\nwe had a fine day",
    "numbers": "1|2|3\n4|5|6",
    "records without a heading": "SM0001|2026-09-03|Garden|Wild\nSM0002|2026-09-04|Park|Wild",
    "one word": "Tag|\n|x",
}


@pytest.mark.parametrize("text", NO_TABLE.values(), ids=NO_TABLE.keys())
def test_a_sheet_without_a_heading_row_has_no_table(text: str) -> None:
    assert tables_of(text) == ()


LEFT_OUT = [
    ("Tag|Date|Place", "repeated heading"),
    ("TAG|Date|Place", "repeated heading"),
    ("Étiquette|Date|Lieu", "repeated heading"),
    ("Total||", "total"),
    ("Total: 25||", "total"),
    ("Total|25|", "total"),
    ("Grand Total:|2|2", "total"),
    ("|Count:|305", "total"),
    ("Moyenne|51,4|", "total"),
    ("MEDIA|20.267|", "total"),
    ("Suma|12|", "total"),
    ("Note: two tags were lost||", "note"),
    ("Note|two tags were lost||ask Anna", "note"),
    ("* 260 of the largest ones tagged||", "note"),
    ("Did not visit for a 7th survey||", "note"),
    ("|We could not find any that day|", "note"),
    ("begin east side||", "section heading"),
    ("East side||", "section heading"),
    ("Week 2||", ""),
    ("SM0003||", ""),
    ("none||", ""),
    ("SM0003 SM0004 SM0005 SM0006||", ""),
    ("|2026-09-05|", ""),
    ("|first week of September 2026|", ""),
    ("||Marsh Road near the old red barn", ""),
    ("Total|2026-09-05|Marsh Road", ""),
    ("Max||", "total"),
    ("SM0003|Total|", ""),
    ("Key West||Marsh Road", ""),
    ("||NB", ""),
    ("||Note: we were late", "note"),
]


@pytest.mark.parametrize(("row", "reason"), LEFT_OUT, ids=[case[0] for case in LEFT_OUT])
def test_a_row_that_is_no_record_is_left_out_with_its_reason(row: str, reason: str) -> None:
    (table,) = tables_of(f"Tag|Date|Place\nSM0001|2026-09-03|Marsh Road\n{row}\nSM0002|2026-09-04|Marsh Road")
    assert table.left_out == ({3: reason} if reason else {})
    assert table.last_row == 4


def test_a_person_called_max_is_no_total() -> None:
    (table,) = tables_of("Name|Date|Wing mm|Place\nAnna|2026-09-03|51|Marsh\nMax||50|")
    assert table.left_out == {}


def test_what_is_said_once_above_the_table_is_kept_with_its_place() -> None:
    (table,) = tables_of(
        "Saltmarsh tagging day\nName: Anna Belliveau||Town|Truro\nFavourite: pizza\nDate:|2026-09-03\n"
        "Tag|Sex|Wing (mm)\nSM0001|F|51"
    )
    assert table.given_once == {
        "recordedBy": ("Anna Belliveau", 2, 0),
        "municipality": ("Truro", 2, 3),
        "eventDate": ("2026-09-03", 4, 1),
    }


def test_a_second_table_below_the_first_is_read_with_its_own_headings() -> None:
    first, second = tables_of(
        "Name: Anna\nTown: Truro\nTag|Date|Place\nSM0001|2026-09-03|Marsh Road\n\n"
        "Town: Amherst\nDate|Tag|Sex|Place\n2026-09-04|SM0002|F|Dyke Road"
    )
    assert (first.heading_row, first.first_row, first.last_row, first.number) == (3, 4, 6, 1)
    assert first.left_out == {6: "section heading"}
    assert (second.heading_row, second.first_row, second.last_row, second.number) == (7, 8, 8, 2)
    assert {field: text for field, (text, _, _) in first.given_once.items()} == {
        "recordedBy": "Anna",
        "municipality": "Truro",
    }
    assert second.given_once["municipality"] == ("Amherst", 6, 0)
    assert second.given_once["recordedBy"] == ("Anna", 1, 0)


def test_a_record_above_a_second_heading_is_never_taken_for_its_title() -> None:
    first, _ = tables_of("Place|Town|Sex\nGarden|Truro|F\nPark|Truro|M\nTag|Date|Place\nSM0002|3 Sept|Marsh")
    assert (first.last_row, first.left_out) == (3, {})


CELLS = st.one_of(
    st.sampled_from([line["written"] for line in SPELLINGS[::40]]),
    st.sampled_from(["Tag", "Date", "Place", "Total", "Note: x", "SM0001", "2026-09-03", "3", "Name: Anna", "", " "]),
    st.text(max_size=8),
)
GRIDS = st.lists(st.lists(CELLS, max_size=5).map(tuple), max_size=12).map(tuple)


@settings(max_examples=300)
@given(GRIDS)
def test_any_grid_is_read_and_no_row_below_a_heading_is_lost(texts: tuple[tuple[str, ...], ...]) -> None:
    kinds = tuple("".join("t" if cell.strip() else "-" for cell in row) for row in texts)
    tables = map_headings(Sheet("a.csv", "0" * 64, "", texts, kinds), NAMES)
    accounted: set[int] = set()
    for table in tables:
        rows = set(range(min(table.heading_row, *table.left_out, table.heading_row), table.last_row + 1))
        assert table.part or not rows & accounted, "only tables and butterflies beside each other share rows"
        assert set(table.left_out) <= rows
        accounted |= rows
        fields = [heading.field for heading in table.headings if heading.field not in ("", "kept")]
        assert len(fields) == len(set(fields))
    if tables:
        below = range(tables[0].heading_row, len(texts) + 1)
        assert {row for row in below if any(cell.strip() for cell in texts[row - 1])} <= accounted


@settings(max_examples=200)
@given(st.lists(st.tuples(CELLS, st.sampled_from(["SM0007", "2B1234"]), CELLS), min_size=1, max_size=8))
def test_a_row_with_a_code_and_a_day_is_always_a_record(rows: list[tuple[str, str, str]]) -> None:
    texts = (
        ("Notes", "Tag", "Place", "Date"),
        *(((first, code, last, "2026-09-03")) for first, code, last in rows),
    )
    kinds = tuple("".join("t" if cell.strip() else "-" for cell in row) for row in texts)
    (table,) = map_headings(Sheet("a.csv", "0" * 64, "", texts, kinds), NAMES)
    assert table.left_out == {}
    assert table.last_row == len(texts)


@given(st.text(max_size=30))
def test_any_heading_is_matched_without_a_fault(written: str) -> None:
    match = match_heading(written, NAMES)
    assert not (match.field and match.guess)


def test_what_was_matched_once_costs_next_to_nothing() -> None:
    """No clock: the same row of headings gives the very same headings back."""
    one = tables_of("Tag|Date|Place|Gruppe\nSM0001|2026-09-03|Marsh Road|2")[0]
    other = tables_of("Tag|Date|Place|Gruppe\nSM0002|2026-09-04|Dyke Road|3")[0]
    assert all(a is b for a, b in zip(one.headings, other.headings, strict=True))
