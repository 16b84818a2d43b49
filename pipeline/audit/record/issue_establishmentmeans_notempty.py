"""A word on whether the organism belongs where it was."""

from pipeline.audit.audit_test import AuditTest, Response, is_empty, not_issue, potential_issue


def responds(establishment_means: str) -> Response:
    if is_empty(establishment_means):
        return not_issue()
    return potential_issue("establishmentMeans is given: the organism may not live there by itself")


TEST = AuditTest(
    label="ISSUE_ESTABLISHMENTMEANS_NOTEMPTY",
    test_id="acc8dff2-d8d1-483a-946d-65a02a452700",
    updated="2023-09-18",
    kind="Issue",
    acted_upon=("establishmentMeans",),
    sees_only_whether_filled=True,
    meaning="something is said on whether the organism belongs where it was",
    advice="Look whether a raised or released organism fits what you use the records for.",
    examples=r"""
        establishmentMeans | status         | result
        introduced         | RUN_HAS_RESULT | POTENTIAL_ISSUE
        ?                  | RUN_HAS_RESULT | POTENTIAL_ISSUE
        \t                 | RUN_HAS_RESULT | NOT_ISSUE
                           | RUN_HAS_RESULT | NOT_ISSUE
    """,
)
