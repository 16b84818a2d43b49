"""A rank of the name that stands there."""

from pipeline.audit.audit_test import AuditTest, Response, compliant, is_empty, not_compliant


def responds(taxon_rank: str) -> Response:
    return not_compliant("taxonRank is empty") if is_empty(taxon_rank) else compliant()


TEST = AuditTest(
    label="VALIDATION_TAXONRANK_NOTEMPTY",
    test_id="14da5b87-8304-4b2b-911d-117e3c29e890",
    updated="2023-09-18",
    kind="Validation",
    acted_upon=("taxonRank",),
    sees_only_whether_filled=True,
    meaning="the rank of the scientific name is given",
    advice="Write the rank of the name, such as species or subspecies.",
    examples=r"""
        taxonRank | status         | result
        species   | RUN_HAS_RESULT | COMPLIANT
        sp.       | RUN_HAS_RESULT | COMPLIANT
        \u00a0    | RUN_HAS_RESULT | COMPLIANT
        \t        | RUN_HAS_RESULT | NOT_COMPLIANT
                  | RUN_HAS_RESULT | NOT_COMPLIANT
    """,
)
