"""A year that is there at all."""

from pipeline.audit.audit_test import AuditTest, Response, compliant, is_empty, not_compliant


def responds(year: str) -> Response:
    if is_empty(year):
        return not_compliant("year is empty")
    return compliant()


TEST = AuditTest(
    label="VALIDATION_YEAR_NOTEMPTY",
    test_id="c09ecbf9-34e3-4f3e-b74a-8796af15e59f",
    updated="2023-09-17",
    kind="Validation",
    acted_upon=("year",),
    sees_only_whether_filled=True,
    meaning="something stands in year, whatever it is",
    advice="Write the year of the event as four figures; it is proposed from eventDate where that is filled.",
    examples="""
        year    | status         | result
        2025    | RUN_HAS_RESULT | COMPLIANT
        unknown | RUN_HAS_RESULT | COMPLIANT
        \\u00a0 | RUN_HAS_RESULT | COMPLIANT
                | RUN_HAS_RESULT | NOT_COMPLIANT
        \\t     | RUN_HAS_RESULT | NOT_COMPLIANT
    """,
)
