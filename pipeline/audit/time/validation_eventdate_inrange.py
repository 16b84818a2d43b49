"""A date of the event between the earliest and the latest that are likely."""

from pipeline.audit.audit_test import AuditTest, Response, cannot_say, compliant, is_empty, not_compliant
from pipeline.audit.bounds import first_allowed, last_allowed
from pipeline.audit.iso_day import iso_day


def responds(event_date: str, *, earliest_valid_date: str, last_valid_date: str) -> Response:
    if is_empty(event_date):
        return cannot_say("eventDate is empty")
    if (event := iso_day(event_date)) is None:
        return cannot_say(f"eventDate {event_date!r} is no valid ISO 8601 date")
    if event.first < (earliest := first_allowed(earliest_valid_date)):
        return not_compliant(f"eventDate begins on {event.first.iso()}, before {earliest.iso()}")
    if event.last > (latest := last_allowed(last_valid_date)):
        return not_compliant(f"eventDate ends on {event.last.iso()}, after {latest.iso()}")
    return compliant()


TEST = AuditTest(
    label="VALIDATION_EVENTDATE_INRANGE",
    test_id="3cff4dc4-72e9-4abe-9bf3-8a30f1618432",
    updated="2024-09-16",
    kind="Validation",
    acted_upon=("eventDate",),
    parameters=("earliest_valid_date", "last_valid_date"),
    sees_no_time=True,
    meaning="all days of eventDate lie between the earliest and the latest date, which are 1582-11-15 and the "
    "end of this year unless set otherwise",
    advice="Look at the year in the field sheet: two figures may be exchanged, or a year of two figures was put "
    "into the wrong century.",
    examples="""
        eventDate             | status                         | result
        2025-08-09            | RUN_HAS_RESULT                 | COMPLIANT
        1962-11-01T10:00-0600 | RUN_HAS_RESULT                 | COMPLIANT
        2026                  | RUN_HAS_RESULT                 | COMPLIANT
        2026-12-31            | RUN_HAS_RESULT                 | COMPLIANT
        1582-11-15            | RUN_HAS_RESULT                 | COMPLIANT
        1582-11-14            | RUN_HAS_RESULT                 | NOT_COMPLIANT
        1582                  | RUN_HAS_RESULT                 | NOT_COMPLIANT
        2027-01-01            | RUN_HAS_RESULT                 | NOT_COMPLIANT
        2026-12-31/2027-01-01 | RUN_HAS_RESULT                 | NOT_COMPLIANT
        0000-01-01            | RUN_HAS_RESULT                 | NOT_COMPLIANT
        9 Aug 2025            | INTERNAL_PREREQUISITES_NOT_MET |
        2025-02-29            | INTERNAL_PREREQUISITES_NOT_MET |
                              | INTERNAL_PREREQUISITES_NOT_MET |
    """,
)
