"""A record that was made less exact before it was shared."""

from pipeline.audit.audit_test import AuditTest, Response, is_empty, not_issue, potential_issue


def responds(data_generalizations: str) -> Response:
    if is_empty(data_generalizations):
        return not_issue()
    return potential_issue("dataGeneralizations says that something was made coarser")


TEST = AuditTest(
    label="ISSUE_DATAGENERALIZATIONS_NOTEMPTY",
    test_id="13d5a10e-188e-40fd-a22c-dbaa87b91df2",
    updated="2023-09-18",
    kind="Issue",
    acted_upon=("dataGeneralizations",),
    sees_only_whether_filled=True,
    meaning="it is said that the record was made less exact before it was shared",
    advice="Read what was made coarser before you use places or days; who publishes may hold the exact ones.",
    examples=r"""
        dataGeneralizations                  | status         | result
        place rounded to a tenth of a degree | RUN_HAS_RESULT | POTENTIAL_ISSUE
        none                                 | RUN_HAS_RESULT | POTENTIAL_ISSUE
        \t                                   | RUN_HAS_RESULT | NOT_ISSUE
                                             | RUN_HAS_RESULT | NOT_ISSUE
    """,
)
