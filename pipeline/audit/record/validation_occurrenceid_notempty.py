"""A record that has an id of its own."""

from pipeline.audit.audit_test import AuditTest, Response, compliant, is_empty, not_compliant


def responds(occurrence_id: str) -> Response:
    return not_compliant("occurrenceID is empty") if is_empty(occurrence_id) else compliant()


TEST = AuditTest(
    label="VALIDATION_OCCURRENCEID_NOTEMPTY",
    test_id="c486546c-e6e5-48a7-b286-eba7f5ca56c4",
    updated="2023-09-17",
    kind="Validation",
    acted_upon=("occurrenceID",),
    sees_only_whether_filled=True,
    meaning="the record has an id of its own",
    advice="Give every record an id that never changes and that no other record has.",
    examples=r"""
        occurrenceID  | status         | result
        ATL:2026:0042 | RUN_HAS_RESULT | COMPLIANT
        null          | RUN_HAS_RESULT | COMPLIANT
        \u00a0        | RUN_HAS_RESULT | COMPLIANT
        \t            | RUN_HAS_RESULT | NOT_COMPLIANT
                      | RUN_HAS_RESULT | NOT_COMPLIANT
    """,
)
