"""A longitude that is there."""

from pipeline.audit.audit_test import AuditTest, Response, compliant, is_empty, not_compliant


def responds(decimal_longitude: str) -> Response:
    return not_compliant("decimalLongitude is empty") if is_empty(decimal_longitude) else compliant()


TEST = AuditTest(
    label="VALIDATION_DECIMALLONGITUDE_NOTEMPTY",
    test_id="9beb9442-d942-4f42-8b6a-fcea01ee086a",
    updated="2023-09-18",
    kind="Validation",
    acted_upon=("decimalLongitude",),
    meaning="there is a longitude in decimal degrees",
    advice="Fill in the longitude in decimal degrees, west of Greenwich with a minus sign.",
    examples="""
        decimalLongitude | status         | result
        -64.8            | RUN_HAS_RESULT | COMPLIANT
        0                | RUN_HAS_RESULT | COMPLIANT
                         | RUN_HAS_RESULT | NOT_COMPLIANT
        \\t              | RUN_HAS_RESULT | NOT_COMPLIANT
    """,
    sees_only_whether_filled=True,
)
