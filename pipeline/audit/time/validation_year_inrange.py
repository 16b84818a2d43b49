"""A year between the earliest and the latest that are likely."""

from pipeline.audit.audit_test import AuditTest, Response, cannot_say, compliant, is_empty, not_compliant
from pipeline.audit.bounds import first_allowed, last_allowed
from pipeline.audit.whole_number import whole_number


def responds(year: str, *, earliest_valid_date: str, last_valid_date: str) -> Response:
    if is_empty(year):
        return cannot_say("year is empty")
    if (number := whole_number(year)) is None:
        return cannot_say(f"year {year!r} is no whole number")
    earliest, latest = first_allowed(earliest_valid_date).year, last_allowed(last_valid_date).year
    if earliest <= number <= latest:
        return compliant()
    return not_compliant(f"year {year} is not from {earliest} to {latest}")


TEST = AuditTest(
    label="VALIDATION_YEAR_INRANGE",
    test_id="ad0c8855-de69-4843-a80c-a5387d20fbc8",
    updated="2024-08-23",
    kind="Validation",
    acted_upon=("year",),
    parameters=("earliest_valid_date", "last_valid_date"),
    meaning="the year lies between the earliest and the latest, which are 1582 and this year unless set otherwise",
    advice="Look at the year in the field sheet; a year is written with all four figures.",
    examples="""
        year        | status                         | result
        2025        | RUN_HAS_RESULT                 | COMPLIANT
        2026        | RUN_HAS_RESULT                 | COMPLIANT
        1582        | RUN_HAS_RESULT                 | COMPLIANT
        1581        | RUN_HAS_RESULT                 | NOT_COMPLIANT
        2027        | RUN_HAS_RESULT                 | NOT_COMPLIANT
        25          | RUN_HAS_RESULT                 | NOT_COMPLIANT
        -2025       | RUN_HAS_RESULT                 | NOT_COMPLIANT
        99999999999 | RUN_HAS_RESULT                 | NOT_COMPLIANT
        2025?       | INTERNAL_PREREQUISITES_NOT_MET |
        MMXXV       | INTERNAL_PREREQUISITES_NOT_MET |
        2025.5      | INTERNAL_PREREQUISITES_NOT_MET |
                    | INTERNAL_PREREQUISITES_NOT_MET |
    """,
)
