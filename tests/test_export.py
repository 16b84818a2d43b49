"""The batch: Darwin Core terms and words, days and places no more precise than written, nothing private."""

from __future__ import annotations

from math import ceil, hypot
from typing import Any

import pandas as pd
import pytest
from geographiclib.geodesic import Geodesic
from portal_rows import A_FIND, FIND, POINT, RELEASE, batch_of, people_of, rows_of, settings_of, table

from pipeline.settings_slips import establishment_means

ODA = {"person_id": "ps1", "name": "Oda Brisebois", "publish_name": "yes", "minor": "no"}
THIRD = "urn:uuid:00000000-0000-5000-8000-000000000003"


def record(case: dict[str, Any], settings: str = "") -> dict[str, str]:
    occurrence = batch_of(rows_of(case), settings_of(settings), people_of(ODA)).occurrence
    assert len(occurrence) == 1
    return {str(key): str(value) for key, value in occurrence.iloc[0].items()}


def test_every_column_is_on_the_list_and_a_term_of_the_standard() -> None:
    batch = batch_of(rows_of({**POINT, "origin": "wild"}, A_FIND))
    # TDWG, Darwin Core list of terms of 2026-05-26.
    terms = {line["term"]: line["iri"] for line in table("darwin_core_terms.csv")}
    listed = pd.DataFrame(table("portal_columns.csv"))
    for name, frame in {
        "occurrence": batch.occurrence,
        "measurementOrFact": batch.measurement_or_fact,
        "resourceRelationship": batch.resource_relationship,
    }.items():
        own = listed[listed["table"] == name]
        assert list(frame.columns) == own["column"].tolist(), name
        assert frame.columns[0] == "occurrenceID"
        assert own["term"].tolist() == [terms[column] for column in frame.columns]
        assert all(dtype == "str" for dtype in frame.dtypes)


def test_no_private_field_is_on_the_list() -> None:
    columns = {line["column"] for line in table("portal_columns.csv")}
    assert not columns & {
        "occurrenceRemarks",
        "postalCode",
        "contact",
        "eventRemarks",
        "locationRemarks",
        "fieldNotes",
    }


def test_a_release_says_what_it_is() -> None:
    told = record({**POINT, "countryCode": "CA", "stateProvince": "New Brunswick", "locality": "Salt Pan Marsh"})
    assert told["occurrenceID"] == RELEASE
    assert told["modified"] == "2026-11-25"
    assert told["license"] == "https://creativecommons.org/licenses/by/4.0/legalcode"
    assert told["basisOfRecord"] == "HumanObservation"
    assert told["occurrenceStatus"] == "detected"
    assert (told["eventType"], told["organismName"], told["organismID"]) == (
        "Release",
        "SM0042",
        "programme:2026:SM0042",
    )
    assert told["recordedBy"] == "Oda Brisebois"
    assert (told["country"], told["countryCode"], told["stateProvince"]) == ("Canada", "CA", "New Brunswick")
    assert (told["locality"], told["verbatimLocality"]) == ("Salt Pan Marsh", "Salt Pan Marsh")
    assert (told["informationWithheld"], told["dataGeneralizations"], told["associatedOccurrences"]) == (
        "",
        "",
        "",
    )


def test_a_find_shares_its_organism_with_the_release_and_points_to_it() -> None:
    batch = batch_of(rows_of(POINT, A_FIND))
    release, find = batch.occurrence.to_dict("records")
    assert find["organismID"] == release["organismID"]
    assert (find["eventType"], find["occurrenceID"]) == ("Find", FIND)
    # Darwin Core list of terms 2026-05-26, examples of associatedOccurrences: wording for an earlier encounter.
    assert find["associatedOccurrences"] == f'"encounter previous to":"{RELEASE}"'
    assert release["associatedOccurrences"] == ""
    link = batch.resource_relationship.to_dict("records")
    assert [(each["occurrenceID"], each["resourceID"], each["relatedResourceID"]) for each in link] == [
        (FIND, FIND, RELEASE)
    ]
    assert link[0]["relationshipOfResource"] == "encounter subsequent to"


def test_a_find_whose_release_has_no_id_yet_has_no_link() -> None:
    batch = batch_of(rows_of({**POINT, "occurrence_id": ""}, A_FIND).iloc[1:])
    assert batch.resource_relationship.empty
    assert batch.occurrence["associatedOccurrences"].tolist() == [""]


DAYS = [
    ("2026-09-03", ("2026-09-03", "2026", "9", "3")),
    ("2026-09", ("2026-09", "2026", "9", "")),
    ("2026", ("2026", "2026", "", "")),
    ("2026-09-03/2026-09-05", ("2026-09-03/2026-09-05", "2026", "9", "")),
    ("2026-09-30/2026-10-02", ("2026-09-30/2026-10-02", "2026", "", "")),
    ("2026-12-31/2027-01-01", ("2026-12-31/2027-01-01", "", "", "")),
    ("2026-09-03/2026-09-03", ("2026-09-03/2026-09-03", "2026", "9", "3")),
    ("", ("", "", "", "")),
    ("3/9/26", ("", "", "", "")),
]


@pytest.mark.parametrize(("day", "told"), DAYS)
def test_a_day_is_never_more_precise_than_written(day: str, told: tuple[str, ...]) -> None:
    found = record({**POINT, "eventDate": day, "eventDate_written": "as typed"})
    assert (found["eventDate"], found["year"], found["month"], found["day"]) == told
    assert found["verbatimEventDate"] == "as typed"


VALUES = [
    ("sex", "male", "male"),
    ("sex", "female", "female"),
    ("sex", "F?", ""),
    ("sex", "", ""),
    ("lifeStage", "adult", "adult"),
    ("lifeStage", "fledgling", ""),
    ("vitality", "alive", "alive"),
    ("vitality", "so so", ""),
    ("individualCount", "1", "1"),
    ("individualCount", "two", ""),
    ("eventTime", "14:05", "14:05"),
    ("eventTime", "14:05/15:00", "14:05/15:00"),
    ("eventTime", "after lunch", ""),
    ("minimumElevationInMeters", "12.5", "12.5"),
    ("minimumElevationInMeters", "high", ""),
    ("behavior", "nectaring on goldenrod", "nectaring on goldenrod"),
    ("behavior", "=cmd()", ""),
    ("behavior", "-x", ""),
    ("municipality", "Sackville", "Sackville"),
    ("municipality", "@home", ""),
    ("countryCode", "CA", "CA"),
    ("countryCode", "Canadia", ""),
]


@pytest.mark.parametrize(("column", "value", "told"), VALUES)
def test_a_value_goes_out_in_the_standards_words_or_not_at_all(column: str, value: str, told: str) -> None:
    assert record({**POINT, column: value})[column] == told


@pytest.mark.parametrize("column", ["sex", "lifeStage", "behavior", "eventTime", "stateProvince", "countryCode"])
def test_a_value_stays_home_while_a_question_about_it_is_open(column: str) -> None:
    good = {"sex": "male", "lifeStage": "adult", "eventTime": "14:05", "countryCode": "CA"}.get(column, "Somewhere")
    told = record({**POINT, column: good, "withheld": f"wingWear {column}"})
    assert told[column] == ""
    assert told["informationWithheld"] == "values that are being checked"
    assert record({**POINT, column: good, "withheld": f"un{column}"})[column] == good


def diagonal(latitude: float, step: float) -> float:
    """Metres across a square of the step, by geographiclib: the same figure from another source."""
    north = Geodesic.WGS84.Inverse(latitude - step / 2, 0, latitude + step / 2, 0)["s12"]
    east = Geodesic.WGS84.Inverse(latitude, 0, latitude, step)["s12"]
    return hypot(north, east)


PLACES = [  # latitude and longitude as typed, the step in which they were written, the precision
    ("four decimals", "45.5012", "-64.8123", 0.0001, "0.0001"),
    ("trailing zeros count", "45.5000", "-64.8000", 0.0001, "0.0001"),
    ("the coarser cell decides", "45.5012", "-64.8", 0.1, "0.1"),
    ("whole degrees at the equator", "0", "-65", 1.0, "1.0"),
]


@pytest.mark.parametrize("case", [each[1:] for each in PLACES], ids=[each[0] for each in PLACES])
def test_a_point_goes_out_as_typed_with_the_radius_of_its_precision(case: tuple[Any, ...]) -> None:
    latitude, longitude, step, precision = case
    told = record({"decimalLatitude": latitude, "decimalLongitude": longitude})
    assert (told["decimalLatitude"], told["decimalLongitude"]) == (latitude, longitude)
    metres = diagonal(float(latitude), step) + 30
    assert metres <= float(told["coordinateUncertaintyInMeters"]) <= metres + 1.001
    assert told["coordinatePrecision"] == precision
    assert told["geodeticDatum"] == "EPSG:4326"
    assert (told["verbatimLatitude"], told["verbatimLongitude"], told["verbatimCoordinates"]) == (
        latitude,
        "" if latitude == longitude else longitude,
        "",
    )
    assert told["verbatimCoordinateSystem"] == "decimal degrees"


def test_degrees_and_minutes_in_one_cell_are_verbatim_coordinates() -> None:
    both = "45°30'N 64°48'O"
    case = {"decimalLatitude": "45.5000000", "decimalLongitude": "-64.8000000"}
    written = {"decimalLatitude_written": both, "decimalLongitude_written": both}
    told = record({**case, **written})
    assert (told["decimalLatitude"], told["decimalLongitude"]) == ("45.5000000", "-64.8000000")
    assert (told["verbatimCoordinates"], told["verbatimLatitude"], told["verbatimLongitude"]) == (
        both,
        "",
        "",
    )
    assert told["verbatimCoordinateSystem"] == "degrees decimal minutes"
    assert told["coordinatePrecision"] == "0.01667"
    # 1 minute at 45 N lies between the published 2450 m (30 N) and 2077 m (60 N); 30 m are added.
    assert 2107 < float(told["coordinateUncertaintyInMeters"]) < 2480


def test_a_stated_uncertainty_is_taken_and_zero_is_not() -> None:
    assert record({**POINT, "coordinateUncertaintyInMeters": "12"})["coordinateUncertaintyInMeters"] == "12"
    assert record({**POINT, "coordinateUncertaintyInMeters": "0"})["coordinateUncertaintyInMeters"] == "44"
    assert (
        record(POINT, "[region]\nreceiver_accuracy_m = 0\n[privacy]\nhome_unknown = 'none'\n")[
            "coordinateUncertaintyInMeters"
        ]
        == "14"
    )


MOVED = {"place_latitude": 45.9000391, "place_longitude": -64.3693487}
DATUMS = [  # what look_up_points found; what goes out
    ("none named", {}, "EPSG:4326", "44", ""),
    ("as phones give it", {"geodeticDatum": "WGS 84"}, "EPSG:4326", "44", "WGS 84"),
    ("not known", {"geodeticDatum": "my map", "datum_code": "", "datum_metres": 120.0}, "not recorded", "164", ""),
    ("no way to WGS 84", {"geodeticDatum": "ATS77", "datum_code": "4122", "datum_metres": 120.0},
     "EPSG:4122", "164", "ATS77"),
    ("brought over", {"geodeticDatum": "NAD27", "datum_code": "4267", "datum_metres": 12.2,
                      "datum_operation": "NAD27 to WGS 84 (12)", **MOVED}, "EPSG:4326", "56", "NAD27"),
]  # fmt: skip


@pytest.mark.parametrize(("case", "told", "metres", "srs"), [one[1:] for one in DATUMS], ids=[one[0] for one in DATUMS])
def test_a_point_goes_out_in_wgs_84_or_says_in_what_it_is(
    case: dict[str, Any], told: str, metres: str, srs: str
) -> None:
    found = record({**POINT, **case})
    assert (found["geodeticDatum"], found["verbatimSRS"]) == (told, srs)
    assert found["coordinateUncertaintyInMeters"] == metres
    is_moved = "datum_operation" in case
    assert found["decimalLatitude"] == ("45.9000391" if is_moved else POINT["decimalLatitude"])
    assert found["verbatimLatitude"] == POINT["decimalLatitude"]
    assert ("NAD27 to WGS 84 (12), 13 m" in found["georeferenceRemarks"]) == is_moved


TOWN = {
    "municipality": "Sackville", "town_source": "GeoNames (CC BY 4.0)", "town_metres": 4600.0,
    "place_latitude": 45.8987, "place_longitude": -64.3684,
}  # fmt: skip


def test_a_row_with_a_town_that_we_know_goes_out_at_its_middle_with_an_honest_radius() -> None:
    told = record(TOWN)
    assert (told["decimalLatitude"], told["decimalLongitude"]) == ("45.8987", "-64.3684")
    assert (told["coordinateUncertaintyInMeters"], told["geodeticDatum"]) == ("4600", "EPSG:4326")
    assert told["georeferenceSources"] == "GeoNames (CC BY 4.0)"
    assert told["georeferenceRemarks"].startswith("middle of the town named")
    assert told["verbatimLatitude"] == told["coordinatePrecision"] == told["verbatimSRS"] == ""


def test_the_middle_of_a_minors_town_is_rounded_like_any_place() -> None:
    told = record({**TOWN, "recorded_by_is_minor": True})
    assert (told["decimalLatitude"], told["decimalLongitude"]) == ("45.90", "-64.37")
    assert 4600 < float(told["coordinateUncertaintyInMeters"]) < 4600 + 680  # half the diagonal of 0.01 degree at 46 N
    assert told["georeferenceSources"] == "" and told["locality"] == ""


def test_a_town_that_is_being_asked_about_gives_no_point() -> None:
    told = record({**TOWN, "withheld": "municipality"})
    assert told["decimalLatitude"] == told["coordinateUncertaintyInMeters"] == told["georeferenceSources"] == ""


def test_a_row_with_a_town_and_no_point_goes_out_with_its_names() -> None:
    told = record({"municipality": "Sackville", "stateProvince": "New Brunswick", "countryCode": "CA"})
    assert (told["municipality"], told["countryCode"]) == ("Sackville", "CA")
    assert {told[name] for name in ("decimalLatitude", "decimalLongitude", "geodeticDatum", "coordinatePrecision")} == {
        ""
    }
    assert told["coordinateUncertaintyInMeters"] == ""
    assert told["georeferenceRemarks"] == "place given by its names only, no point"


HOME = {
    **POINT,
    "km_from_home": 0.2,
    "locality": "our yard",
    "municipality": "Sackville",
    "minimumElevationInMeters": "12",
    "countryCode": "CA",
}


@pytest.mark.parametrize("why", ["a home", "a minor", "a find"])
def test_a_rounded_place_tells_no_more_than_its_square(why: str) -> None:
    case = {
        "a home": HOME,
        "a minor": {**HOME, "km_from_home": float("nan"), "recorded_by_is_minor": True},
        "a find": {**HOME, "km_from_home": float("nan"), "recordKind": "find"},
    }[why]
    told = record(case)
    assert (told["decimalLatitude"], told["decimalLongitude"]) == ("45.50", "-64.81")
    assert told["coordinatePrecision"] == "0.01"
    # 0.0001 degree and 30 m give 44 m; half the diagonal of the square comes on top, all rounded up.
    assert float(told["coordinateUncertaintyInMeters"]) == ceil(44 + diagonal(45.5, 0.01) / 2)
    assert told["dataGeneralizations"] == "coordinates rounded to the nearest 0.01 degree"
    assert told["municipality"] == "Sackville"
    kept = (
        "locality",
        "minimumElevationInMeters",
        *(name for name in told if name.startswith("verbatim") and name != "verbatimEventDate"),
    )
    assert {told[name] for name in kept} == {""}
    shown = " ".join(told.values())
    assert not any(private in shown for private in ("45.5012", "64.8123", "our yard", "home", "minor", "child"))


def test_a_place_written_more_coarsely_than_the_square_does_not_become_finer() -> None:
    told = record({**HOME, "decimalLatitude": "45.5", "decimalLongitude": "-64.8"})
    assert (told["decimalLatitude"], told["coordinatePrecision"]) == ("45.50", "0.1")


def test_the_square_is_a_setting() -> None:
    told = record(HOME, "[privacy]\nhome_square_degrees = 0.025\nhome_unknown = 'none'\n")
    assert (told["decimalLatitude"], told["decimalLongitude"]) == ("45.500", "-64.800")


def test_remarks_contacts_and_postcodes_never_go() -> None:
    private = {
        "occurrenceRemarks": "PRIVATE1",
        "contact": "PRIVATE2",
        "postalCode": "PRIVATE3",
        "condition": "PRIVATE4",
    }
    batch = batch_of(rows_of({**POINT, **private}, {**A_FIND, **private}))
    for frame in (batch.occurrence, batch.measurement_or_fact, batch.resource_relationship):
        assert "PRIVATE" not in frame.to_csv()


def test_a_locality_with_a_house_number_stays_home_and_the_rest_goes() -> None:
    told = record({**POINT, "locality": "12 Elm Street", "municipality": "Sackville"})
    assert (told["locality"], told["verbatimLocality"], told["municipality"]) == ("", "", "Sackville")
    assert told["informationWithheld"] == "locality"
    assert told["decimalLatitude"] == "45.5012"


def test_measures_and_origin_go_to_their_own_table() -> None:
    rows = rows_of(
        {
            "origin": "reared",
            "forewingLength": "51.5",
            "wingMeasured": "left",
            "wingSpan": "98",
            "bodyMass": "0.52",
            "wingWear": "2",
        },
        {"occurrence_id": THIRD, "forewingLength": ">50", "bodyMass": "0", "wingWear": "9", "wingSpan": "-3"},
    )
    lines = batch_of(rows).measurement_or_fact
    assert lines[["measurementType", "measurementValue", "measurementUnit"]].to_numpy().tolist() == [
        ["origin", "reared", ""],
        ["forewing length", "51.5", "mm"],
        ["wing span", "98", "mm"],
        ["body mass", "0.52", "g"],
        ["wing wear", "2", ""],
    ]
    assert set(lines["occurrenceID"]) == {RELEASE}
    assert lines["measurementID"].is_unique
    assert lines["measurementMethod"].tolist()[1] == "from the wing's base to its tip, left wing"


def test_a_measure_that_is_asked_about_stays_home() -> None:
    assert batch_of(rows_of({"forewingLength": "15", "withheld": "forewingLength"})).measurement_or_fact.empty


def test_a_record_of_an_origin_that_is_not_published_stays_home_whole() -> None:
    rows = rows_of({**POINT, "origin": "bred"}, {"occurrence_id": THIRD, "tagCode": "SM0043", "origin": "wild"}, A_FIND)
    batch = batch_of(rows)
    assert batch.occurrence["occurrenceID"].tolist() == [THIRD, FIND]
    assert batch.measurement_or_fact["occurrenceID"].tolist() == [THIRD]
    assert batch.resource_relationship.empty


def test_a_check_character_is_no_part_of_the_organisms_name() -> None:
    settings = '[tags]\ncheck_character = "iso7064-mod37-36"\n[privacy]\nhome_unknown = "none"\n'
    told = record({"tagCode": "SM0042Z"}, settings)
    assert (told["organismName"], told["organismID"]) == ("SM0042", "programme:2026:SM0042")


def test_a_left_over_tag_keeps_the_season_for_which_it_was_handed_out() -> None:
    assert record({"tag_season": "2025"})["organismID"] == "programme:2025:SM0042"
    assert record({"tag_season": ""})["organismID"] == "programme:2026:SM0042"


def test_a_species_has_its_classification_and_a_genus_its_rank() -> None:
    told = record({})
    assert (told["scientificName"], told["scientificNameAuthorship"]) == (
        "Danaus plexippus",
        "(Linnaeus, 1758)",
    )
    assert (told["taxonRank"], told["genus"], told["family"], told["order"]) == (
        "species",
        "Danaus",
        "Nymphalidae",
        "Lepidoptera",
    )
    assert (told["kingdom"], told["vernacularName"]) == ("Animalia", "Monarch")
    assert record({"scientificName": "Danaus"})["taxonRank"] == "genus"
    assert record({"scientificName": ""})["kingdom"] == ""


def test_the_settings_words_go_out_as_given() -> None:
    told = record(
        {},
        '[portal]\noccurrence_status = "present"\nestablishment_means = "native"\n',
    )
    assert (told["occurrenceStatus"], told["establishmentMeans"]) == ("present", "native")


def test_the_words_for_establishment_are_those_of_the_ratified_list() -> None:
    # TDWG, establishmentMeans controlled vocabulary of 2026-05-26.
    assert establishment_means() == (
        "native",
        "nativeReintroduced",
        "introduced",
        "introducedAssistedColonisation",
        "vagrant",
        "uncertain",
        "nativeEndemic",
    )


def test_control_characters_do_not_reach_the_portal() -> None:
    assert record({**POINT, "behavior": "basking\nthen\tflying"})["behavior"] == "basking then flying"


def test_a_batch_of_no_rows_has_its_columns() -> None:
    batch = batch_of(rows_of(POINT).iloc[:0])
    assert batch.occurrence.empty and batch.occurrence.columns[0] == "occurrenceID"
    assert batch.measurement_or_fact.columns[0] == batch.resource_relationship.columns[0] == "occurrenceID"


def test_a_cell_of_several_measures_is_made_safe_by_itself() -> None:
    lines = batch_of(rows_of({"origin": "wild", "forewingLength": "51.5"}, {"occurrence_id": THIRD, "wingSpan": "98"}))
    settings = settings_of('[programme]\nname = "=Marsh"\n[privacy]\nhome_unknown = "none"\n')
    assert lines.measurement_or_fact["measurementType"].tolist() == ["origin", "forewing length", "wing span"]
    assert batch_of(rows_of(POINT), settings).occurrence["datasetName"].tolist() == [""]
