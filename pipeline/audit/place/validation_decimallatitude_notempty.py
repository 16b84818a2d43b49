"""A latitude that is there."""

from pipeline.audit.audit_test import AuditTest, Response, compliant, is_empty, not_compliant


def responds(decimal_latitude: str) -> Response:
    return not_compliant("decimalLatitude is empty") if is_empty(decimal_latitude) else compliant()


TEST = AuditTest(
    label="VALIDATION_DECIMALLATITUDE_NOTEMPTY",
    test_id="7d2485d5-1ba7-4f25-90cb-f4480ff1a275",
    updated="2023-09-18",
    kind="Validation",
    acted_upon=("decimalLatitude",),
    meaning="there is a latitude in decimal degrees",
    advice="Fill in the latitude in decimal degrees; where the sheet has degrees and minutes, convert them.",
    examples="""
        decimalLatitude | status         | result
        45.5            | RUN_HAS_RESULT | COMPLIANT
        0               | RUN_HAS_RESULT | COMPLIANT
        north           | RUN_HAS_RESULT | COMPLIANT
                        | RUN_HAS_RESULT | NOT_COMPLIANT
        \\t             | RUN_HAS_RESULT | NOT_COMPLIANT
    """,
    sees_only_whether_filled=True,
)
