"""A record that says whether the organism was there."""

from pipeline.audit.audit_test import AuditTest, Response, compliant, is_empty, not_compliant


def responds(occurrence_status: str) -> Response:
    return not_compliant("occurrenceStatus is empty") if is_empty(occurrence_status) else compliant()


TEST = AuditTest(
    label="VALIDATION_OCCURRENCESTATUS_NOTEMPTY",
    test_id="eb4a17f6-6bea-4cdd-93dd-d5a7e9d1eccf",
    updated="2023-09-18",
    kind="Validation",
    acted_upon=("occurrenceStatus",),
    sees_only_whether_filled=True,
    meaning="it is said whether the organism was there or was looked for in vain",
    advice="Write for every record whether the organism was found.",
    examples=r"""
        occurrenceStatus | status         | result
        present          | RUN_HAS_RESULT | COMPLIANT
        ?                | RUN_HAS_RESULT | COMPLIANT
        \u00a0           | RUN_HAS_RESULT | COMPLIANT
        \t               | RUN_HAS_RESULT | NOT_COMPLIANT
                         | RUN_HAS_RESULT | NOT_COMPLIANT
    """,
)
