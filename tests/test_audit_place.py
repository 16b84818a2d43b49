"""The audit's tests of places, held against published values and against each other.

`BDQ` stands for the rows of values beside TDWG's Biodiversity Data Quality draft of 2026-06-03 (CC BY 4.0), by their
dataID; `DwC` for the examples in the Darwin Core list of terms of 2026-05-26 (CC BY 4.0).
"""

from __future__ import annotations

import json
from datetime import date
from functools import cache
from time import process_time

import numpy as np
import pytest

from pipeline.audit.all_tests import all_tests
from pipeline.audit.audit import answered
from pipeline.audit.audit_test import Response
from pipeline.audit.columns import column
from pipeline.audit.decimal_number import decimal_number
from pipeline.audit.looked_up import FACTS, _degrees
from pipeline.audit.sources import Sources
from pipeline.files.audit_sources import audit_sources
from pipeline.files.boundaries import km_outside
from pipeline.files.datums import is_datum, largest_shift
from pipeline.files.outlines import nearest
from pipeline.files.schemas import table
from pipeline.files.standing import ZONE_KM, _all_lines, country_standing, is_within


@cache
def sources() -> Sources:
    return audit_sources(date(2026, 11, 25))


def said(label: str, with_sources: Sources | None = None, **terms: str) -> Response:
    (entry,) = [one for one in all_tests() if one.test.label == label]
    known = {term: column([value]) for term, value in terms.items()}
    return answered(entry, known, 1, with_sources or sources()).responses.values[0]


@pytest.mark.parametrize(
    ("label", "terms", "expected"),
    [
        # Coordinates
        ("VALIDATION_DECIMALLATITUDE_INRANGE", {"decimalLatitude": "41.0554 N"}, ""),  # BDQ 623
        ("VALIDATION_DECIMALLONGITUDE_INRANGE", {"decimalLongitude": "181.0554"}, "NOT_COMPLIANT"),  # BDQ 87
        ("VALIDATION_COORDINATES_NOTZERO", {"decimalLatitude": "0", "decimalLongitude": "0"}, "NOT_COMPLIANT"),  # 706
        ("VALIDATION_COORDINATES_NOTZERO", {"decimalLatitude": "0", "decimalLongitude": "-71.53"}, "COMPLIANT"),  # 714
        # Uncertainty
        ("VALIDATION_COORDINATEUNCERTAINTY_INRANGE", {"coordinateUncertaintyInMeters": "0"}, "NOT_COMPLIANT"),  # 888
        ("VALIDATION_COORDINATEUNCERTAINTY_INRANGE", {"coordinateUncertaintyInMeters": "1"}, "COMPLIANT"),  # BDQ 891
        ("VALIDATION_COORDINATEUNCERTAINTY_INRANGE", {"coordinateUncertaintyInMeters": "20037509"}, "COMPLIANT"),  # 892
        (
            "VALIDATION_COORDINATEUNCERTAINTY_INRANGE",
            {"coordinateUncertaintyInMeters": "20037510"},
            "NOT_COMPLIANT",
        ),  # BDQ 890
        # Datums
        ("VALIDATION_GEODETICDATUM_STANDARD", {"geodeticDatum": "EPSG:1168"}, "COMPLIANT"),  # BDQ 387
        ("VALIDATION_GEODETICDATUM_STANDARD", {"geodeticDatum": "EPSG:23032"}, "NOT_COMPLIANT"),  # BDQ 384
        ("VALIDATION_GEODETICDATUM_STANDARD", {"geodeticDatum": "6326"}, "NOT_COMPLIANT"),  # BDQ 382
        ("VALIDATION_GEODETICDATUM_STANDARD", {"geodeticDatum": "not recorded"}, "COMPLIANT"),  # BDQ 1300
        # Countries
        ("VALIDATION_COUNTRYCODE_STANDARD", {"countryCode": "GL"}, "COMPLIANT"),  # BDQ 4
        ("VALIDATION_COUNTRYCODE_STANDARD", {"countryCode": "GRL"}, "NOT_COMPLIANT"),  # BDQ 5
        ("VALIDATION_COUNTRYCODE_STANDARD", {"countryCode": "XZ"}, "COMPLIANT"),  # BDQ 6
        ("VALIDATION_COUNTRYCODE_STANDARD", {"countryCode": "ZZ"}, "COMPLIANT"),  # BDQ 11
    ],
)
def test_published_values_are_found_right_or_wrong(label: str, terms: dict[str, str], expected: str) -> None:
    assert said(label, **terms).result == expected


@pytest.mark.parametrize(
    ("label", "terms", "expected"),
    [
        ("AMENDMENT_COORDINATES_FROM_VERBATIM", {"verbatimCoordinates": "139.92, -23.712", "verbatimSRS": "EPSG:4326",
         "verbatimCoordinateSystem": "decimal degrees"}, ["-23.712", "139.92", "EPSG:4326"]),  # BDQ 104
        ("AMENDMENT_COORDINATES_FROM_VERBATIM",
         {"verbatimCoordinates": "23 degrees 42.72 minutes south 140 degrees 30 minutes east"},
         ["-23.712", "140.5"]),  # BDQ 95
        ("AMENDMENT_COORDINATES_FROM_VERBATIM", {"verbatimCoordinates": "41 05 54S 121 05 34W"},
         ["-41.0983333", "-121.0927778"]),  # DwC verbatimCoordinates
        ("AMENDMENT_COORDINATES_FROM_VERBATIM", {"verbatimLatitude": "41 05 54.03S", "verbatimLongitude":
         "121d 10' 34\" W"}, ["-41.0983417", "-121.1761111"]),  # DwC verbatimLatitude, verbatimLongitude; within 1e-6
        ("AMENDMENT_COORDINATES_FROM_VERBATIM", {"verbatimCoordinates": "17T 630000 4833400"},
         []),  # DwC verbatimCoordinates: a grid, and nothing is converted
        ("AMENDMENT_COORDINATES_TRANSPOSED", {"decimalLatitude": "25.46", "decimalLongitude": "135.87",
         "countryCode": "AU"}, ["-25.46", "135.87"]),  # BDQ 313
        ("AMENDMENT_COORDINATES_TRANSPOSED", {"decimalLatitude": "12.5", "decimalLongitude": "70",
         "countryCode": "AW"}, ["12.5", "-70"]),  # BDQ 304
        ("AMENDMENT_GEODETICDATUM_STANDARDIZED", {"geodeticDatum": "WGS84"}, ["EPSG:4326"]),  # BDQ 394
        ("AMENDMENT_GEODETICDATUM_STANDARDIZED", {"geodeticDatum": "WGS8"}, []),  # BDQ 393
        ("AMENDMENT_MINELEVATIONMAXELEVATION_FROM_VERBATIM", {"verbatimElevation": "100 feet"},
         ["30.48", "30.48"]),  # BDQ 483
        ("AMENDMENT_MINELEVATIONMAXELEVATION_FROM_VERBATIM", {"verbatimElevation": "1500 - 2000 Ft"},
         ["457.2", "609.6"]),  # BDQ 489
        ("AMENDMENT_MINELEVATIONMAXELEVATION_FROM_VERBATIM", {"verbatimElevation": "200 - 300 m"},
         ["200", "300"]),  # BDQ 484
        ("AMENDMENT_MINELEVATIONMAXELEVATION_FROM_VERBATIM", {"verbatimElevation": "1000"}, []),  # BDQ 486
        ("AMENDMENT_COUNTRYCODE_STANDARDIZED", {"countryCode": "Australia"}, ["AU"]),  # BDQ 243
        ("AMENDMENT_COUNTRYCODE_STANDARDIZED", {"countryCode": "Aust."}, []),  # BDQ 244
    ],
)  # fmt: skip
def test_published_proposals_are_made(label: str, terms: dict[str, str], expected: list[str]) -> None:
    response = said(label, **terms)
    assert list(json.loads(response.result or "{}").values()) == expected
    assert response.status in ({"AMENDED", "FILLED_IN"} if expected else {"NOT_AMENDED"})


def test_the_table_of_datum_shifts_agrees_with_what_is_published() -> None:
    # Georeferencing Best Practices 1.0 (Chapman and Wieczorek 2020): nowhere more than 5,359 m; ours is of EPSG 11.022.
    assert (
        5250 <= max(largest_shift(north, east) for north in range(-90, 91, 5) for east in range(-180, 181, 5)) <= 5359
    )
    # The draft's own example of AMENDMENT_GEODETICDATUM_ASSUMEDDEFAULT adds 2,786 m at 30 S, 130 E.
    assert largest_shift(-30.0, 130.0) == pytest.approx(2786, abs=10)


def test_the_middle_of_argentina_is_where_the_drafts_example_has_it() -> None:
    terms = {"countryCode": "AR", "decimalLatitude": "-35.38804", "decimalLongitude": "-65.154964"}
    assert said("ISSUE_COORDINATES_CENTEROFCOUNTRY", **terms).result == "POTENTIAL_ISSUE"


def test_every_datum_that_we_spell_ourselves_has_a_code_of_today() -> None:
    codes = {line["code"] for line in table("vocabularies/datums.csv")} - {""}
    assert [code for code in sorted(codes) if not is_datum(f"EPSG:{code}")] == []


def test_without_its_map_or_list_a_test_says_so() -> None:
    nothing = Sources(today=date(2026, 11, 25), country_codes=frozenset({"CA"}))
    point = {"decimalLatitude": "46.09", "decimalLongitude": "-64.77"}
    for label, terms in {
        "VALIDATION_COORDINATESCOUNTRYCODE_CONSISTENT": point | {"countryCode": "CA"},
        "VALIDATION_COORDINATESSTATEPROVINCE_CONSISTENT": point | {"stateProvince": "New Brunswick"},
        "AMENDMENT_COUNTRYCODE_FROM_COORDINATES": point,
        "ISSUE_COORDINATES_CENTEROFCOUNTRY": point | {"countryCode": "CA"},
        "VALIDATION_COUNTRY_FOUND": {"country": "Canada"},
        "VALIDATION_COUNTRYCOUNTRYCODE_CONSISTENT": {"country": "Canada", "countryCode": "CA"},
        "VALIDATION_STATEPROVINCE_FOUND": {"stateProvince": "NB"},
        "VALIDATION_COUNTRYSTATEPROVINCE_UNAMBIGUOUS": {"country": "Canada", "stateProvince": "NB"},
        "VALIDATION_GEODETICDATUM_STANDARD": {"geodeticDatum": "EPSG:4326"},
        "AMENDMENT_GEODETICDATUM_STANDARDIZED": {"geodeticDatum": "WGS84"},
    }.items():
        assert said(label, nothing, **terms).status == "EXTERNAL_PREREQUISITES_NOT_MET", label
    no_codes = Sources(today=date(2026, 11, 25))
    for label in ("VALIDATION_COUNTRYCODE_STANDARD", "AMENDMENT_COUNTRYCODE_STANDARDIZED"):
        assert said(label, no_codes, countryCode="CA").status == "EXTERNAL_PREREQUISITES_NOT_MET"


def test_one_number_and_many_are_read_alike() -> None:
    written = ["45.5", " 45.5 ", "+.5", "7.", "1e3", "-0", "", " ", "nan", "inf", "1_000", "45,5", "4 5", "0x1A",
               "45.5 N", "٤٥", "\u00a045", "--5", "1e", "True", "-64.8000000000001"]  # fmt: skip
    many = _degrees(written)
    for text, number in zip(written, many.tolist(), strict=True):
        one = decimal_number(text)
        assert (one is None and not np.isfinite(number)) or one == pytest.approx(number, abs=1e-12), text


def points(number: int) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Points all over the globe, as many to each part of its surface, each with a country by lot."""
    lot = np.random.default_rng(20261125)
    codes = np.array(sorted(sources().country_codes - {"XZ", "ZZ"}))
    north = np.degrees(np.arcsin(lot.uniform(-1, 1, number)))
    return north, lot.uniform(-180, 180, number), lot.choice(codes, number)


def test_the_quick_way_to_say_where_a_point_stands_agrees_with_its_distance() -> None:
    north, east, _ = points(4000)
    codes = np.where(np.arange(4000) % 2 == 0, "US", "CA")
    standing, km = country_standing(north, east, codes, 3.0), km_outside(north, east, codes)
    is_known = ~np.isnan(km)
    assert (km[is_known & (standing == "in")] <= 3).all()
    assert (km[is_known & (standing == "near")] <= 3).all()
    assert (km[is_known & (standing == "zone")] <= ZONE_KM).all()
    assert (km[is_known & (standing == "sea")] > ZONE_KM).all()
    elsewhere = ~np.isin(standing, ["in", "near", "zone", "sea"])
    assert (km[is_known & elsewhere] > 3).all()


def test_within_a_reach_is_what_the_nearest_outline_says_also_across_180_degrees() -> None:
    north, east = np.array([52.0, 51.0, -17.0, 40.0, 0.0]), np.array([179.9, -179.9, -179.5, -40.0, -150.0])
    assert (is_within(_all_lines(), north, east, 400.0) == (nearest(_all_lines(), north, east).km <= 400.0)).all()


# The three facts of 1,000,000 different points took 8 s together on one core where points mostly stand in their place,
# and 34 s for points, countries and states by lot, of which nearly each is asked about in every way.
def test_facts_for_many_points_are_quick() -> None:
    number = 20_000
    lot = np.random.default_rng(1)
    north, east = lot.uniform(25, 60, number), lot.uniform(-125, -65, number)
    terms = {
        "decimalLatitude": list(map(str, north)),
        "decimalLongitude": list(map(str, east)),
        "countryCode": np.where(north > 49, "CA", "US").tolist(),
        "stateProvince": ["New Brunswick"] * number,
    }
    for name in ("country_standing", "turns", "state_standing"):
        FACTS[name]({term: values[:10] for term, values in terms.items()}, sources())  # the maps are read once a run
    begun = process_time()
    for name in ("country_standing", "turns", "state_standing"):
        assert len(FACTS[name](terms, sources())) == number
    assert process_time() - begun < 5
