"""A record that says what it rests on."""

from pipeline.audit.audit_test import AuditTest, Response, compliant, is_empty, not_compliant


def responds(basis_of_record: str) -> Response:
    return not_compliant("basisOfRecord is empty") if is_empty(basis_of_record) else compliant()


TEST = AuditTest(
    label="VALIDATION_BASISOFRECORD_NOTEMPTY",
    test_id="ac2b7648-d5f9-48ca-9b07-8ad5879a2536",
    updated="2023-09-17",
    kind="Validation",
    acted_upon=("basisOfRecord",),
    sees_only_whether_filled=True,
    meaning="it is said what the record rests on",
    advice="Write HumanObservation where somebody saw it, PreservedSpecimen where it is kept in a collection.",
    examples=r"""
        basisOfRecord    | status         | result
        HumanObservation | RUN_HAS_RESULT | COMPLIANT
        seen             | RUN_HAS_RESULT | COMPLIANT
        \u00a0           | RUN_HAS_RESULT | COMPLIANT
        \t               | RUN_HAS_RESULT | NOT_COMPLIANT
                         | RUN_HAS_RESULT | NOT_COMPLIANT
    """,
)
