"""A name and a code that mean the same country."""

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


def responds(country: str, country_code: str, *, country_names: Mapping[str, str]) -> Response:
    if not country_names:
        return source_is_missing("there is no list of names of countries here")
    if is_empty(country) or is_empty(country_code):
        return cannot_say("country or countryCode is empty")
    code = code_of_country(country, country_names)
    if not code:
        return not_compliant(f"country is {country!r}, no name of a country in our list")
    if code == country_code:
        return compliant()
    return not_compliant(f"country is {country!r}, whose code is {code}, and countryCode is {country_code!r}")


TEST = AuditTest(
    label="VALIDATION_COUNTRYCOUNTRYCODE_CONSISTENT",
    test_id="b23110e7-1be7-444a-a677-cdee0cf4330c",
    updated="2024-09-25",
    kind="Validation",
    acted_upon=("country", "countryCode"),
    meaning="the name and the code are those of one country",
    advice="See from the sheet or the coordinates which of the two is right, and correct the other; on the high"
    " seas country stays empty.",
    examples="""
        country                              | countryCode | status                         | result
        Canada                               | CA          | RUN_HAS_RESULT                 | COMPLIANT
        Mexique                              | MX          | RUN_HAS_RESULT                 | COMPLIANT
        Canada                               | US          | RUN_HAS_RESULT                 | NOT_COMPLIANT
        United States Minor Outlying Islands | US          | RUN_HAS_RESULT                 | NOT_COMPLIANT
        Canada                               | ca          | RUN_HAS_RESULT                 | NOT_COMPLIANT
        Canada                               | CA\\u00a0   | RUN_HAS_RESULT                 | NOT_COMPLIANT
        Atlantis                             | CA          | RUN_HAS_RESULT                 | NOT_COMPLIANT
        High seas                            | XZ          | RUN_HAS_RESULT                 | NOT_COMPLIANT
                                             | CA          | INTERNAL_PREREQUISITES_NOT_MET |
        Canada                               |             | INTERNAL_PREREQUISITES_NOT_MET |
    """,
    parameters=("country_names",),
)
