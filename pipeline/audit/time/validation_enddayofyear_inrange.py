"""A last day of the year that its year has."""

from pipeline.audit.audit_test import AuditTest, Response, cannot_say, compliant, is_empty, not_compliant
from pipeline.audit.calendar_day import days_in_year
from pipeline.audit.iso_day import iso_day
from pipeline.audit.whole_number import whole_number


def responds(end_day_of_year: str, event_date: str) -> Response:
    if is_empty(end_day_of_year):
        return cannot_say("endDayOfYear is empty")
    number = whole_number(end_day_of_year)
    if number is None or not 1 <= number <= 366:
        return not_compliant(f"endDayOfYear is {end_day_of_year!r}, not a whole number from 1 to 366")
    if number <= 365:
        return compliant()
    if (event := iso_day(event_date)) is None:
        return cannot_say("endDayOfYear 366 asks for an eventDate in ISO 8601 that says the year")
    if days_in_year(event.last.year) == 366:
        return compliant()
    return not_compliant(f"{event.last.year} has no day 366")


TEST = AuditTest(
    label="VALIDATION_ENDDAYOFYEAR_INRANGE",
    test_id="9a39d88c-7eee-46df-b32a-c109f9f81fb8",
    updated="2023-09-18",
    kind="Validation",
    acted_upon=("endDayOfYear",),
    consulted=("eventDate",),
    sees_no_time=True,
    meaning="the place of the last day in its year is from 1 to 365, or 366 where eventDate ends in a leap year",
    advice="Count the day again from eventDate; it is proposed from there where endDayOfYear is empty.",
    examples="""
        endDayOfYear | eventDate             | status                         | result
        221          |                       | RUN_HAS_RESULT                 | COMPLIANT
        1            | 2025-08-09            | RUN_HAS_RESULT                 | COMPLIANT
        365          |                       | RUN_HAS_RESULT                 | COMPLIANT
        366          | 2024-12-31            | RUN_HAS_RESULT                 | COMPLIANT
        366          | 2024                  | RUN_HAS_RESULT                 | COMPLIANT
        366          | 2023-12-31/2024-12-31 | RUN_HAS_RESULT                 | COMPLIANT
        366          | 2024-12-31/2025-01-02 | RUN_HAS_RESULT                 | NOT_COMPLIANT
        366          | 2025-08-09            | RUN_HAS_RESULT                 | NOT_COMPLIANT
        367          | 2024                  | RUN_HAS_RESULT                 | NOT_COMPLIANT
        0            |                       | RUN_HAS_RESULT                 | NOT_COMPLIANT
        -1           |                       | RUN_HAS_RESULT                 | NOT_COMPLIANT
        x            |                       | RUN_HAS_RESULT                 | NOT_COMPLIANT
        366          |                       | INTERNAL_PREREQUISITES_NOT_MET |
        366          | 31 Dec 2024           | INTERNAL_PREREQUISITES_NOT_MET |
                     | 2025-08-09            | INTERNAL_PREREQUISITES_NOT_MET |
    """,
)
