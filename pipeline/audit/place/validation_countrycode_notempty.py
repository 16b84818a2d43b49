"""A code of a country that is there."""

from pipeline.audit.audit_test import AuditTest, Response, compliant, is_empty, not_compliant


def responds(country_code: str) -> Response:
    return not_compliant("countryCode is empty") if is_empty(country_code) else compliant()


TEST = AuditTest(
    label="VALIDATION_COUNTRYCODE_NOTEMPTY",
    test_id="853b79a2-b314-44a2-ae46-34a1e7ed85e4",
    updated="2024-11-10",
    kind="Validation",
    acted_upon=("countryCode",),
    meaning="there is a code of a country",
    advice="Fill in the country's code of two letters; XZ stands for the high seas, ZZ for not known.",
    examples="""
        countryCode | status         | result
        CA          | RUN_HAS_RESULT | COMPLIANT
        Canada      | RUN_HAS_RESULT | COMPLIANT
                    | RUN_HAS_RESULT | NOT_COMPLIANT
        \\t         | RUN_HAS_RESULT | NOT_COMPLIANT
    """,
    sees_only_whether_filled=True,
)
