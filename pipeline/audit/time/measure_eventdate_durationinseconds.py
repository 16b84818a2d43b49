"""How long the event lasted at most, as far as its date says."""

from pipeline.audit.audit_test import AuditTest, Response, cannot_say, counted, is_empty
from pipeline.audit.iso_day import iso_day


def responds(event_date: str) -> Response:
    if is_empty(event_date):
        return cannot_say("eventDate is empty")
    if (event := iso_day(event_date)) is None:
        return cannot_say(f"eventDate {event_date!r} is no valid ISO 8601 date")
    return counted(event.seconds)


TEST = AuditTest(
    label="MEASURE_EVENTDATE_DURATIONINSECONDS",
    test_id="56b6c695-adf1-418e-95d2-da04cad7be53",
    updated="2024-09-16",
    kind="Measure",
    acted_upon=("eventDate",),
    meaning="how many seconds lie between the beginning and the end of what eventDate says, each day with 86,400 "
    "and the last one whole",
    advice="A long time may be all that is known; where the field sheet knows the day, write the day.",
    examples="""
        eventDate                                 | status                         | result
        2025-08-09                                | RUN_HAS_RESULT                 | 86400
        2025-08-09/11                             | RUN_HAS_RESULT                 | 259200
        2025-08                                   | RUN_HAS_RESULT                 | 2678400
        2025                                      | RUN_HAS_RESULT                 | 31536000
        2024                                      | RUN_HAS_RESULT                 | 31622400
        2024-02                                   | RUN_HAS_RESULT                 | 2505600
        2025/2026                                 | RUN_HAS_RESULT                 | 63072000
        2025-08-09T14                             | RUN_HAS_RESULT                 | 3600
        2025-08-09T14:05                          | RUN_HAS_RESULT                 | 60
        2025-08-09T14:05:06Z                      | RUN_HAS_RESULT                 | 1
        2025-08-09T14:05:00Z/2025-08-09T15:05:30Z | RUN_HAS_RESULT                 | 3630
        2025-08-09T14:00-03:00/2025-08-09T18:00Z  | RUN_HAS_RESULT                 | 3600
        9 Aug 2025                                | INTERNAL_PREREQUISITES_NOT_MET |
        25                                        | INTERNAL_PREREQUISITES_NOT_MET |
                                                  | INTERNAL_PREREQUISITES_NOT_MET |
    """,
)
