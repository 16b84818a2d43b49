"""A point in the middle of its country, as made from its name alone."""

from collections.abc import Mapping

from pipeline.audit.audit_test import (
    AuditTest,
    Response,
    cannot_say,
    is_empty,
    not_issue,
    potential_issue,
    source_is_missing,
)
from pipeline.audit.decimal_number import decimal_number


def responds(  # noqa: PLR0913 - three terms and what is known of them
    code: str,
    latitude: str,
    longitude: str,
    uncertainty: str,
    km: float,
    *,
    half_width_km: Mapping[str, float],
    centre_buffer_metres: float,
) -> Response:
    if is_empty(code) or is_empty(latitude) or is_empty(longitude):
        return cannot_say("countryCode, latitude or longitude is empty")
    if not half_width_km:
        return source_is_missing("there are no middles of countries here")
    if not km * 1000 <= centre_buffer_metres:
        return not_issue()
    metres = decimal_number(uncertainty)
    if metres is not None and metres >= half_width_km[code] * 1000:
        return not_issue(f"in the middle of {code}, and its uncertainty says as much")
    reach = f"{centre_buffer_metres / 1000:g} km"
    return potential_issue(f"within {reach} of a middle of {code}, as we work it out from its shape")


TEST = AuditTest(
    label="ISSUE_COORDINATES_CENTEROFCOUNTRY",
    test_id="256e51b3-1e08-4349-bb7e-5186631c3f8e",
    updated="2024-08-28",
    kind="Issue",
    acted_upon=("countryCode", "decimalLatitude", "decimalLongitude"),
    consulted=("coordinateUncertaintyInMeters",),
    meaning="the point lies within 5 km of the middle of its country, and its uncertainty does not say that the"
    " whole country is meant",
    advice="See whether only the country was known: then say so with an uncertainty that covers it, or leave"
    " the coordinates out.",
    examples="""
        countryCode | decimalLatitude | decimalLongitude | coordinateUncertaintyInMeters | status                         | result
        AR          | -35.38804       | -65.154964       |                               | RUN_HAS_RESULT                 | POTENTIAL_ISSUE
        CA          | 61.3764         | -98.2937         |                               | RUN_HAS_RESULT                 | POTENTIAL_ISSUE
        CA          | 61.3764         | -98.2937         | 100                           | RUN_HAS_RESULT                 | POTENTIAL_ISSUE
        CA          | 61.3764         | -98.2937         | 2000000                       | RUN_HAS_RESULT                 | NOT_ISSUE
        AR          | -34.184199      | -65.509403       |                               | RUN_HAS_RESULT                 | NOT_ISSUE
        CA          | 46.09           | -64.77           |                               | RUN_HAS_RESULT                 | NOT_ISSUE
        US          | 61.3764         | -98.2937         |                               | RUN_HAS_RESULT                 | NOT_ISSUE
        CA          | north           | -98.2937         |                               | RUN_HAS_RESULT                 | NOT_ISSUE
                    | 61.3764         | -98.2937         |                               | INTERNAL_PREREQUISITES_NOT_MET |
        CA          |                 |                  |                               | INTERNAL_PREREQUISITES_NOT_MET |
    """,  # noqa: E501
    looked_up=("km_from_centre",),
    parameters=("half_width_km", "centre_buffer_metres"),
)
