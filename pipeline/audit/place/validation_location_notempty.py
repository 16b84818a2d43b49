"""A place that is told in some way."""

from pipeline.audit.audit_test import AuditTest, Response, compliant, is_empty, not_compliant


def responds(*places: str) -> Response:
    if all(map(is_empty, places)):
        return not_compliant("nothing says where it was: no name of a place, no coordinates, no outline")
    return compliant()


TEST = AuditTest(
    label="VALIDATION_LOCATION_NOTEMPTY",
    test_id="58486cb6-1114-4a8a-ba1e-bd89cfe887e9",
    updated="2023-09-18",
    kind="Validation",
    acted_upon=(
        "higherGeographyID",
        "higherGeography",
        "continent",
        "country",
        "countryCode",
        "stateProvince",
        "county",
        "municipality",
        "waterBody",
        "island",
        "islandGroup",
        "locality",
        "locationID",
        "verbatimLocality",
        "decimalLatitude",
        "decimalLongitude",
        "verbatimCoordinates",
        "verbatimLatitude",
        "verbatimLongitude",
        "footprintWKT",
    ),
    meaning="at least one term says where it was",
    advice="Fill in what is known of the place, if only the country; heights and depths alone do not place a record.",
    examples="""
        locality   | decimalLatitude | stateProvince | countryCode | status         | result
        Marsh Road |                 |               |             | RUN_HAS_RESULT | COMPLIANT
                   | 45.5            |               |             | RUN_HAS_RESULT | COMPLIANT
                   |                 | NB            |             | RUN_HAS_RESULT | COMPLIANT
                   |                 |               | CA          | RUN_HAS_RESULT | COMPLIANT
                   |                 |               |             | RUN_HAS_RESULT | NOT_COMPLIANT
    """,
    sees_only_whether_filled=True,
)
