"""An identification that is neither too early, nor to come, nor older than the event."""

from pipeline.audit.audit_test import AuditTest, Response, cannot_say, compliant, is_empty, not_compliant
from pipeline.audit.bounds import first_allowed, last_allowed
from pipeline.audit.iso_day import iso_day


def responds(
    date_identified: str,
    event_date: str,
    *,
    earliest_identified_date: str,
    last_identified_date: str,
    includes_event_date: bool,
) -> Response:
    if is_empty(date_identified):
        return cannot_say("dateIdentified is empty")
    if (identified := iso_day(date_identified)) is None:
        return cannot_say(f"dateIdentified {date_identified!r} is no valid ISO 8601 date")
    must_follow = includes_event_date and not is_empty(event_date)
    event = iso_day(event_date) if must_follow else None
    if must_follow and event is None:
        return cannot_say(f"eventDate {event_date!r} is no valid ISO 8601 date")
    if identified.first < (earliest := first_allowed(earliest_identified_date)):
        return not_compliant(f"dateIdentified begins on {identified.first.iso()}, before {earliest.iso()}")
    latest = last_allowed(last_identified_date)
    # A year alone, which goes on to December, is not yet to come.
    if identified.last[: identified.precision] > latest[: identified.precision]:
        return not_compliant(f"dateIdentified ends on {identified.last.iso()}, after {latest.iso()}")
    if event and identified.is_before(event):
        return not_compliant(f"dateIdentified {date_identified} is over before eventDate {event_date} begins")
    return compliant()


TEST = AuditTest(
    label="VALIDATION_DATEIDENTIFIED_INRANGE",
    test_id="dc8aae4b-134f-4d75-8a71-c4186239178e",
    updated="2024-09-16",
    kind="Validation",
    acted_upon=("dateIdentified",),
    consulted=("eventDate",),
    parameters=("earliest_identified_date", "last_identified_date", "includes_event_date"),
    meaning="the identification is neither before 1753 nor after today, unless set otherwise, nor over before "
    "the event began",
    advice="Compare both dates with the field sheet and with the label of the identification; one of them may "
    "be that of the upload.",
    examples="""
        dateIdentified         | eventDate         | status                         | result
        2025-08-10             | 2025-08-09        | RUN_HAS_RESULT                 | COMPLIANT
        2025-08-09             | 2025-08-09T14:05  | RUN_HAS_RESULT                 | COMPLIANT
        2025                   | 2025-08-09        | RUN_HAS_RESULT                 | COMPLIANT
        2026                   | 2025-08-09        | RUN_HAS_RESULT                 | COMPLIANT
        2026-11-25             |                   | RUN_HAS_RESULT                 | COMPLIANT
        1753-01-01             |                   | RUN_HAS_RESULT                 | COMPLIANT
        2025-08-09T15:00-03:00 | 2025-08-09T17:30Z | RUN_HAS_RESULT                 | COMPLIANT
        2025-08-09T14:00-03:00 | 2025-08-09T17:30Z | RUN_HAS_RESULT                 | NOT_COMPLIANT
        2025-08-08             | 2025-08-09        | RUN_HAS_RESULT                 | NOT_COMPLIANT
        2024                   | 2025-08-09        | RUN_HAS_RESULT                 | NOT_COMPLIANT
        2026-11-26             |                   | RUN_HAS_RESULT                 | NOT_COMPLIANT
        2026-12                |                   | RUN_HAS_RESULT                 | NOT_COMPLIANT
        1752-12-31             |                   | RUN_HAS_RESULT                 | NOT_COMPLIANT
        2025-08-10             | 9 Aug 2025        | INTERNAL_PREREQUISITES_NOT_MET |
        10 Aug 2025            | 2025-08-09        | INTERNAL_PREREQUISITES_NOT_MET |
                               | 2025-08-09        | INTERNAL_PREREQUISITES_NOT_MET |
    """,
)
