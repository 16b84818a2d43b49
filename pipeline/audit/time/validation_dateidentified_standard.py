"""A date of the identification in ISO 8601."""

from pipeline.audit.audit_test import AuditTest, Response, cannot_say, compliant, is_empty, not_compliant
from pipeline.audit.iso_day import iso_day


def responds(date_identified: str) -> Response:
    if is_empty(date_identified):
        return cannot_say("dateIdentified is empty")
    if iso_day(date_identified):
        return compliant()
    return not_compliant(
        f"dateIdentified is {date_identified!r}, no day, time or span that ISO 8601 and the calendar have"
    )


TEST = AuditTest(
    label="VALIDATION_DATEIDENTIFIED_STANDARD",
    test_id="66269bdd-9271-4e76-b25c-7ab81eebe1d8",
    updated="2024-09-16",
    kind="Validation",
    acted_upon=("dateIdentified",),
    sees_no_time=True,
    meaning="dateIdentified is a date, a time of a date or a span of them in ISO 8601 that the calendar has",
    advice="Write year-month-day with hyphens and two slots for month and day; what can be read in one way only "
    "is proposed.",
    examples="""
        dateIdentified         | status                         | result
        2025-08-09             | RUN_HAS_RESULT                 | COMPLIANT
        2025-08                | RUN_HAS_RESULT                 | COMPLIANT
        2024-02-29             | RUN_HAS_RESULT                 | COMPLIANT
        2025-08-09T14          | RUN_HAS_RESULT                 | COMPLIANT
        2025-08-09T14:05-0300  | RUN_HAS_RESULT                 | COMPLIANT
        2025-08-09T14:05:06.5Z | RUN_HAS_RESULT                 | COMPLIANT
        2025-221               | RUN_HAS_RESULT                 | COMPLIANT
        2025-W32-6             | RUN_HAS_RESULT                 | COMPLIANT
        20250809               | RUN_HAS_RESULT                 | COMPLIANT
        2025-08-09/2025-08-12  | RUN_HAS_RESULT                 | COMPLIANT
        2025-08-09/12          | RUN_HAS_RESULT                 | COMPLIANT
        2025-08-09T14:67-0300  | RUN_HAS_RESULT                 | NOT_COMPLIANT
        2025-08-09T4           | RUN_HAS_RESULT                 | NOT_COMPLIANT
        2025-08-09 14:05       | RUN_HAS_RESULT                 | NOT_COMPLIANT
        2025-02-29             | RUN_HAS_RESULT                 | NOT_COMPLIANT
        2025-08-12/2025-08-09  | RUN_HAS_RESULT                 | NOT_COMPLIANT
        2025/08/09             | RUN_HAS_RESULT                 | NOT_COMPLIANT
        25                     | RUN_HAS_RESULT                 | NOT_COMPLIANT
        9 Aug 2025             | RUN_HAS_RESULT                 | NOT_COMPLIANT
        \\u00a02025-08-09      | RUN_HAS_RESULT                 | NOT_COMPLIANT
                               | INTERNAL_PREREQUISITES_NOT_MET |
    """,
)
