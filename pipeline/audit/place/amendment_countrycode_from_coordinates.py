"""The code of the country in which the point lies."""

from pipeline.audit.audit_test import (
    AuditTest,
    Response,
    cannot_say,
    filled_in,
    is_empty,
    not_amended,
    source_is_missing,
)
from pipeline.audit.decimal_number import not_on_globe


def responds(code: str, latitude: str, longitude: str, here: str, *, country_codes: frozenset[str]) -> Response:
    if not is_empty(code):
        return cannot_say("countryCode is there")
    if is_empty(latitude) or is_empty(longitude):
        return cannot_say("latitude or longitude is empty")
    if why := not_on_globe(latitude, longitude):
        return not_amended(why)
    if not here:
        return source_is_missing("there is no map of countries here")
    if here == "XZ":
        return filled_in("at sea, more than 400 km from any land: the high seas", countryCode="XZ")
    if here in country_codes:
        return filled_in(f"the point lies in {here}, more than 3 km from any other country", countryCode=here)
    if here == "sea":
        return not_amended("at sea, less than 400 km from land: whose waters these are our map does not say")
    where = here.replace(" ", " or ")
    return not_amended(f"{where}: a border is nearer than 3 km, or several countries claim the place")


TEST = AuditTest(
    label="AMENDMENT_COUNTRYCODE_FROM_COORDINATES",
    test_id="8c5fe9c9-4ba9-49ef-b15a-9ccd0424e6ae",
    updated="2024-08-18",
    kind="Amendment",
    acted_upon=("countryCode",),
    consulted=("decimalLatitude", "decimalLongitude"),
    meaning="the code is empty, and the point lies well inside one country or on the high seas, whose code is proposed",
    advice="Take the proposed code if the coordinates are right.",
    examples="""
        countryCode | decimalLatitude | decimalLongitude | status                         | result
                    | 46.09           | -64.77           | FILLED_IN                      | {"dwc:countryCode": "CA"}
                    | -25.23          | 135.43           | FILLED_IN                      | {"dwc:countryCode": "AU"}
                    | -38.280937      | 72.047790        | FILLED_IN                      | {"dwc:countryCode": "XZ"}
                    | 18.2            | -66.4            | FILLED_IN                      | {"dwc:countryCode": "PR"}
                    | 45.19           | -67.28           | NOT_AMENDED                    |
                    | 43              | -60              | NOT_AMENDED                    |
                    | 44.95           | 34.1             | NOT_AMENDED                    |
                    | 95              | -64.77           | NOT_AMENDED                    |
                    |                 | -64.77           | INTERNAL_PREREQUISITES_NOT_MET |
        CA          | 46.09           | -64.77           | INTERNAL_PREREQUISITES_NOT_MET |
        US          | 46.09           | -64.77           | INTERNAL_PREREQUISITES_NOT_MET |
    """,
    looked_up=("country_here",),
    parameters=("country_codes",),
)
