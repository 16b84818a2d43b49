"""A day that its month has."""

import re
from calendar import isleap

from pipeline.audit.audit_test import AuditTest, Response, cannot_say, compliant, is_empty, not_compliant
from pipeline.audit.calendar_day import days_in_month
from pipeline.audit.whole_number import whole_number, whole_number_among

LEAP_YEAR = 2024  # has the longest February
FOUR_FIGURES = re.compile("[0-9]{4}")


def responds(day: str, month: str, year: str) -> Response:
    if (number := whole_number(day)) is None:
        return cannot_say("day is empty" if is_empty(day) else f"day {day!r} is no whole number")
    if 1 <= number <= 28:
        return compliant()
    if not 29 <= number <= 31:
        return not_compliant(f"no month has a day {number}")
    if (in_month := whole_number_among(month, 1, 12)) is None:
        return cannot_say(f"day {number} asks for a month from 1 to 12, which {month!r} is not")
    if number > days_in_month(LEAP_YEAR, in_month):
        return not_compliant(f"month {in_month} has no day {number}")
    return _on_last_of_february(year) if (number, in_month) == (29, 2) else compliant()


def _on_last_of_february(year: str) -> Response:
    if not FOUR_FIGURES.fullmatch(year.strip()):
        return cannot_say(f"29 February asks for a year of four figures, which {year!r} is not")
    return compliant() if isleap(int(year)) else not_compliant(f"{year} is no leap year, so February ended on day 28")


TEST = AuditTest(
    label="VALIDATION_DAY_INRANGE",
    test_id="8d787cb5-73e2-4c39-9cd1-67c7361dc02e",
    updated="2024-09-16",
    kind="Validation",
    acted_upon=("day", "month", "year"),
    meaning="the day is one that the month has in that year; to 28 every month has it",
    advice="Look up the day and the month in the field sheet; they may be exchanged, or the day belongs to the "
    "next month.",
    examples="""
        day | month | year | status                         | result
        9   |       |      | RUN_HAS_RESULT                 | COMPLIANT
        28  | 2     | 2025 | RUN_HAS_RESULT                 | COMPLIANT
        31  | 8     |      | RUN_HAS_RESULT                 | COMPLIANT
        30  | 9     |      | RUN_HAS_RESULT                 | COMPLIANT
        29  | 2     | 2024 | RUN_HAS_RESULT                 | COMPLIANT
        29  | 2     | 2000 | RUN_HAS_RESULT                 | COMPLIANT
        29  | 2     | 1900 | RUN_HAS_RESULT                 | NOT_COMPLIANT
        30  | 2     | 2024 | RUN_HAS_RESULT                 | NOT_COMPLIANT
        30  | 2     |      | RUN_HAS_RESULT                 | NOT_COMPLIANT
        31  | 9     | 2025 | RUN_HAS_RESULT                 | NOT_COMPLIANT
        0   | 8     | 2025 | RUN_HAS_RESULT                 | NOT_COMPLIANT
        32  |       |      | RUN_HAS_RESULT                 | NOT_COMPLIANT
        29  | 2     |      | INTERNAL_PREREQUISITES_NOT_MET |
        29  | 2     | 24   | INTERNAL_PREREQUISITES_NOT_MET |
        29  |       | 2025 | INTERNAL_PREREQUISITES_NOT_MET |
        31  | 13    | 2025 | INTERNAL_PREREQUISITES_NOT_MET |
        31  | VIII  | 2025 | INTERNAL_PREREQUISITES_NOT_MET |
        IX  | 8     | 2025 | INTERNAL_PREREQUISITES_NOT_MET |
            | 8     | 2025 | INTERNAL_PREREQUISITES_NOT_MET |
    """,
)
