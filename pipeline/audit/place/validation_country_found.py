"""A country that is known by this name."""

from collections.abc import Mapping

from pipeline.audit.audit_test import (
    AuditTest,
    Response,
    cannot_say,
    compliant,
    is_empty,
    not_compliant,
    source_is_missing,
)
from pipeline.audit.place_name import code_of_country


def responds(country: str, *, country_names: Mapping[str, str]) -> Response:
    if not country_names:
        return source_is_missing("there is no list of names of countries here")
    if is_empty(country):
        return cannot_say("country is empty")
    if code_of_country(country, country_names):
        return compliant()
    return not_compliant(f"country is {country!r}, no name of a country in our list (English, French, Spanish)")


TEST = AuditTest(
    label="VALIDATION_COUNTRY_FOUND",
    test_id="69b2efdc-6269-45a4-aecb-4cb99c2ae134",
    updated="2024-08-19",
    kind="Validation",
    acted_upon=("country",),
    meaning="the country is written with the name of one country",
    advice="Write one name of one country; a code belongs in countryCode, a state in stateProvince, the high"
    " seas as code XZ.",
    examples="""
        country       | status                         | result
        Canada        | RUN_HAS_RESULT                 | COMPLIANT
        Eswatini      | RUN_HAS_RESULT                 | COMPLIANT
        México        | RUN_HAS_RESULT                 | COMPLIANT
        États-Unis    | RUN_HAS_RESULT                 | COMPLIANT
        USA           | RUN_HAS_RESULT                 | COMPLIANT
        Tasmania      | RUN_HAS_RESULT                 | NOT_COMPLIANT
        New Brunswick | RUN_HAS_RESULT                 | NOT_COMPLIANT
        CA            | RUN_HAS_RESULT                 | NOT_COMPLIANT
        High seas     | RUN_HAS_RESULT                 | NOT_COMPLIANT
        Canada, USA   | RUN_HAS_RESULT                 | NOT_COMPLIANT
        Canada?       | RUN_HAS_RESULT                 | NOT_COMPLIANT
        Canada\\u00a0 | RUN_HAS_RESULT                 | NOT_COMPLIANT
                      | INTERNAL_PREREQUISITES_NOT_MET |
    """,
    parameters=("country_names",),
)
