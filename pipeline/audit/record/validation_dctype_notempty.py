"""A record that says what kind of thing it stands for."""

from pipeline.audit.audit_test import AuditTest, Response, compliant, is_empty, not_compliant


def responds(dc_type: str) -> Response:
    return not_compliant("type is empty") if is_empty(dc_type) else compliant()


TEST = AuditTest(
    label="VALIDATION_DCTYPE_NOTEMPTY",
    test_id="374b091a-fc90-4791-91e5-c1557c649169",
    updated="2023-09-18",
    kind="Validation",
    acted_upon=("type",),
    sees_only_whether_filled=True,
    meaning="it is said what kind of thing the record stands for",
    advice="Write Event for an observation and PhysicalObject for a specimen.",
    examples=r"""
        type   | status         | result
        Event  | RUN_HAS_RESULT | COMPLIANT
        ?      | RUN_HAS_RESULT | COMPLIANT
        \u00a0 | RUN_HAS_RESULT | COMPLIANT
        \t     | RUN_HAS_RESULT | NOT_COMPLIANT
               | RUN_HAS_RESULT | NOT_COMPLIANT
    """,
)
