"""A code of a country that ISO 3166 has."""

from pipeline.audit.audit_test import (
    AuditTest,
    Response,
    cannot_say,
    compliant,
    is_empty,
    not_compliant,
    source_is_missing,
)


def responds(country_code: str, *, country_codes: frozenset[str]) -> Response:
    if not country_codes:
        return source_is_missing("there is no list of codes of countries here")
    if is_empty(country_code):
        return cannot_say("countryCode is empty")
    if country_code in country_codes:
        return compliant()
    return not_compliant(f"countryCode is {country_code!r}, no code of two capital letters of ISO 3166-1")


TEST = AuditTest(
    label="VALIDATION_COUNTRYCODE_STANDARD",
    test_id="0493bcfb-652e-4d17-815b-b0cce0742fbe",
    updated="2024-09-19",
    kind="Validation",
    acted_upon=("countryCode",),
    meaning="the code is one of two letters of ISO 3166-1, or XZ for the high seas, or ZZ for not known",
    advice="Write the code of two capital letters; what stands there is proposed as one beside this where it"
    " can only mean one.",
    examples="""
        countryCode | status                         | result
        CA          | RUN_HAS_RESULT                 | COMPLIANT
        GL          | RUN_HAS_RESULT                 | COMPLIANT
        XZ          | RUN_HAS_RESULT                 | COMPLIANT
        ZZ          | RUN_HAS_RESULT                 | COMPLIANT
        GRL         | RUN_HAS_RESULT                 | NOT_COMPLIANT
        ca          | RUN_HAS_RESULT                 | NOT_COMPLIANT
        CA\\u00a0   | RUN_HAS_RESULT                 | NOT_COMPLIANT
        Canada      | RUN_HAS_RESULT                 | NOT_COMPLIANT
        UK          | RUN_HAS_RESULT                 | NOT_COMPLIANT
        XK          | RUN_HAS_RESULT                 | NOT_COMPLIANT
                    | INTERNAL_PREREQUISITES_NOT_MET |
    """,
    parameters=("country_codes",),
)
