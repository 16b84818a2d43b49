"""A date of the event whose parts say the same beside it."""

from pipeline.audit.audit_test import AuditTest, Response, cannot_say, compliant, is_empty, not_compliant
from pipeline.audit.iso_day import iso_day
from pipeline.audit.parts_of_day import parts_of_day
from pipeline.audit.whole_number import whole_number

TERMS = ("day", "month", "year", "startDayOfYear", "endDayOfYear")


def responds(event_date: str, *parts: str) -> Response:
    written = [(term, part) for term, part in zip(TERMS, parts, strict=True) if not is_empty(part)]
    if is_empty(event_date) or not written:
        return cannot_say("eventDate is empty" if is_empty(event_date) else "nothing stands beside eventDate")
    if (event := iso_day(event_date)) is None:
        return not_compliant(f"eventDate {event_date!r} is no valid ISO 8601 date, so nothing can agree with it")
    settled = parts_of_day(event)
    against = [f"{term} {part}" for term, part in written if term not in settled or whole_number(part) != settled[term]]
    if against:
        return not_compliant(f"eventDate {event_date} does not say {', '.join(against)}")
    return compliant()


TEST = AuditTest(
    label="VALIDATION_EVENT_CONSISTENT",
    test_id="5618f083-d55a-4ac2-92b5-b9fb227b832f",
    updated="2023-09-18",
    kind="Validation",
    acted_upon=("eventDate", "day", "month", "year", "startDayOfYear", "endDayOfYear"),
    sees_no_time=True,
    meaning="whatever stands in day, month, year and the days of the year is just what eventDate says and is "
    "precise enough to say",
    advice="Find out from the field sheet which is right, and empty the terms that the date is not precise enough for.",
    examples="""
        eventDate             | day | month | year | startDayOfYear | endDayOfYear | status | result
        2025-08-09T14:05      | 9   | 8     | 2025 |                |              | RUN_HAS_RESULT | COMPLIANT
        2025-08-09            | 09  | 08    | 2025 | 221            | 221          | RUN_HAS_RESULT | COMPLIANT
        2025-08-09/12         |     | 8     | 2025 | 221            | 224          | RUN_HAS_RESULT | COMPLIANT
        1981-12-30/1982-01-03 |     |       |      | 364            | 3            | RUN_HAS_RESULT | COMPLIANT
        2025-08               |     | 8     | 2025 |                |              | RUN_HAS_RESULT | COMPLIANT
        2025-08-10            | 9   | 8     | 2025 |                |              | RUN_HAS_RESULT | NOT_COMPLIANT
        2025-08-09/12         | 9   | 8     | 2025 |                |              | RUN_HAS_RESULT | NOT_COMPLIANT
        2025-07-31/2025-08-01 |     | 7     | 2025 |                |              | RUN_HAS_RESULT | NOT_COMPLIANT
        2025-12-31/2026-01-01 |     |       | 2025 |                |              | RUN_HAS_RESULT | NOT_COMPLIANT
        2025                  | 1   | 1     | 2025 |                |              | RUN_HAS_RESULT | NOT_COMPLIANT
        2025-08               |     |       |      | 213            | 243          | RUN_HAS_RESULT | NOT_COMPLIANT
        2025-08-09            | 9   | VIII  | 2025 |                |              | RUN_HAS_RESULT | NOT_COMPLIANT
        2025-08-09            |     |       |      | 220            |              | RUN_HAS_RESULT | NOT_COMPLIANT
        2025-08-09            |     |       |      |                | 222          | RUN_HAS_RESULT | NOT_COMPLIANT
        9 Aug 2025            | 9   |       |      |                |              | RUN_HAS_RESULT | NOT_COMPLIANT
        2025-08-09            |     |       |      |                |              | INTERNAL_PREREQUISITES_NOT_MET |
                              | 9   | 8     | 2025 |                |              | INTERNAL_PREREQUISITES_NOT_MET |
                              |     |       |      |                |              | INTERNAL_PREREQUISITES_NOT_MET |
    """,
)
