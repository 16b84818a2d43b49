"""A day, month or span that is there at all."""

from pipeline.audit.audit_test import AuditTest, Response, compliant, is_empty, not_compliant


def responds(event_date: str) -> Response:
    if is_empty(event_date):
        return not_compliant("eventDate is empty")
    return compliant()


TEST = AuditTest(
    label="VALIDATION_EVENTDATE_NOTEMPTY",
    test_id="f51e15a6-a67d-4729-9c28-3766299d2985",
    updated="2023-09-17",
    kind="Validation",
    acted_upon=("eventDate",),
    sees_only_whether_filled=True,
    meaning="something stands in eventDate, whatever it is",
    advice="Write the day of the event here, or the month or year if no more is known.",
    examples="""
        eventDate  | status         | result
        2025-08-09 | RUN_HAS_RESULT | COMPLIANT
        unknown    | RUN_HAS_RESULT | COMPLIANT
        \\u00a0    | RUN_HAS_RESULT | COMPLIANT
                   | RUN_HAS_RESULT | NOT_COMPLIANT
        \\t        | RUN_HAS_RESULT | NOT_COMPLIANT
    """,
)
