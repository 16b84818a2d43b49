"""A record that says how it may be used."""

from pipeline.audit.audit_test import AuditTest, Response, compliant, is_empty, not_compliant


def responds(licence: str) -> Response:
    return not_compliant("license is empty") if is_empty(licence) else compliant()


TEST = AuditTest(
    label="VALIDATION_LICENSE_NOTEMPTY",
    test_id="15f78619-811a-4c6f-997a-a4c7888ad849",
    updated="2023-09-18",
    kind="Validation",
    acted_upon=("license",),
    sees_only_whether_filled=True,
    meaning="it is said under which licence the record may be used",
    advice="Write the licence of the data set in each record, by its address.",
    examples=r"""
        license   | status         | result
        CC BY 4.0 | RUN_HAS_RESULT | COMPLIANT
        ask us    | RUN_HAS_RESULT | COMPLIANT
        \u00a0    | RUN_HAS_RESULT | COMPLIANT
        \t        | RUN_HAS_RESULT | NOT_COMPLIANT
                  | RUN_HAS_RESULT | NOT_COMPLIANT
    """,
)
