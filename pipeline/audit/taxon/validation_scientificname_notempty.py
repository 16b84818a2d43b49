"""A scientific name that stands there."""

from pipeline.audit.audit_test import AuditTest, Response, compliant, is_empty, not_compliant


def responds(scientific_name: str) -> Response:
    return not_compliant("scientificName is empty") if is_empty(scientific_name) else compliant()


TEST = AuditTest(
    label="VALIDATION_SCIENTIFICNAME_NOTEMPTY",
    test_id="7c4b9498-a8d9-4ebb-85f1-9f200c788595",
    updated="2023-09-18",
    kind="Validation",
    acted_upon=("scientificName",),
    sees_only_whether_filled=True,
    meaning="a scientific name stands there",
    advice="Write the scientific name, or that of the group as far as it is known.",
    examples=r"""
        scientificName   | status         | result
        Danaus plexippus | RUN_HAS_RESULT | COMPLIANT
        ?                | RUN_HAS_RESULT | COMPLIANT
        \u00a0           | RUN_HAS_RESULT | COMPLIANT
        \t               | RUN_HAS_RESULT | NOT_COMPLIANT
                         | RUN_HAS_RESULT | NOT_COMPLIANT
    """,
)
