"""A record that says anything about when it was."""

from pipeline.audit.audit_test import AuditTest, Response, compliant, is_empty, not_compliant


def responds(*terms: str) -> Response:
    if all(is_empty(term) for term in terms):
        return not_compliant("no term says when it was: neither a date, nor a part of one, nor a verbatim date")
    return compliant()


TEST = AuditTest(
    label="VALIDATION_EVENTTEMPORAL_NOTEMPTY",
    test_id="41267642-60ff-4116-90eb-499fee2cd83f",
    updated="2023-09-30",
    kind="Validation",
    acted_upon=("eventDate", "year", "month", "day", "startDayOfYear", "endDayOfYear", "verbatimEventDate"),
    sees_only_whether_filled=True,
    meaning="at least one of the terms for the date of an event is filled",
    advice="Look for the date in the field sheet, and write it to eventDate or, as it stands there, to "
    "verbatimEventDate.",
    examples="""
        eventDate | year | month | day | startDayOfYear | endDayOfYear | verbatimEventDate | status | result
        2025-08-09 |  |  |  |  |  |  | RUN_HAS_RESULT | COMPLIANT
         | 2025 |  |  |  |  |  | RUN_HAS_RESULT | COMPLIANT
         |  | 8 |  |  |  |  | RUN_HAS_RESULT | COMPLIANT
         |  |  | 9 |  |  |  | RUN_HAS_RESULT | COMPLIANT
         |  |  |  | 221 |  |  | RUN_HAS_RESULT | COMPLIANT
         |  |  |  |  | 221 |  | RUN_HAS_RESULT | COMPLIANT
         |  |  |  |  |  | last Saturday | RUN_HAS_RESULT | COMPLIANT
         |  |  |  |  |  |  | RUN_HAS_RESULT | NOT_COMPLIANT
        \\t |  |  |  |  |  |  | RUN_HAS_RESULT | NOT_COMPLIANT
    """,
)
