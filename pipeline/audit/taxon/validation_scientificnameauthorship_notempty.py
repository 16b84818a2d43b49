"""An authorship of the name that stands there."""

from pipeline.audit.audit_test import AuditTest, Response, compliant, is_empty, not_compliant


def responds(scientific_name_authorship: str) -> Response:
    return not_compliant("scientificNameAuthorship is empty") if is_empty(scientific_name_authorship) else compliant()


TEST = AuditTest(
    label="VALIDATION_SCIENTIFICNAMEAUTHORSHIP_NOTEMPTY",
    test_id="49f1d386-5bed-43ae-bd43-deabf7df64fc",
    updated="2024-02-04",
    kind="Validation",
    acted_upon=("scientificNameAuthorship",),
    sees_only_whether_filled=True,
    meaning="the authorship of the scientific name is given",
    advice="Add who named it and when; it tells names apart that are written alike.",
    examples=r"""
        scientificNameAuthorship | status         | result
        (Linnaeus, 1758)         | RUN_HAS_RESULT | COMPLIANT
        L.                       | RUN_HAS_RESULT | COMPLIANT
        \u00a0                   | RUN_HAS_RESULT | COMPLIANT
        \t                       | RUN_HAS_RESULT | NOT_COMPLIANT
                                 | RUN_HAS_RESULT | NOT_COMPLIANT
    """,
)
