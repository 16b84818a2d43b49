"""A country that is named."""

from pipeline.audit.audit_test import AuditTest, Response, compliant, is_empty, not_compliant


def responds(country: str, country_code: str) -> Response:
    if not is_empty(country) or country_code == "XZ":
        return compliant()
    return not_compliant("country is empty")


TEST = AuditTest(
    label="VALIDATION_COUNTRY_NOTEMPTY",
    test_id="6ce2b2b4-6afe-4d13-82a0-390d31ade01c",
    updated="2024-09-27",
    kind="Validation",
    acted_upon=("country",),
    consulted=("countryCode",),
    meaning="the country is named, or the code says that it was the high seas",
    advice="Name the country beside its code, for people who read the table.",
    examples="""
        country   | countryCode | status         | result
        Canada    |             | RUN_HAS_RESULT | COMPLIANT
                  | XZ          | RUN_HAS_RESULT | COMPLIANT
        High seas | XZ          | RUN_HAS_RESULT | COMPLIANT
                  | CA          | RUN_HAS_RESULT | NOT_COMPLIANT
                  |             | RUN_HAS_RESULT | NOT_COMPLIANT
    """,
)
