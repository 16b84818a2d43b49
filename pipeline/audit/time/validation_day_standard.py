"""A day that months have."""

from pipeline.audit.audit_test import AuditTest, Response, cannot_say, compliant, is_empty, not_compliant
from pipeline.audit.whole_number import whole_number_among


def responds(day: str) -> Response:
    if is_empty(day):
        return cannot_say("day is empty")
    if whole_number_among(day, 1, 31):
        return compliant()
    return not_compliant(f"day is {day!r}, not a whole number from 1 to 31")


TEST = AuditTest(
    label="VALIDATION_DAY_STANDARD",
    test_id="47ff73ba-0028-4f79-9ce1-ee7008d66498",
    updated="2023-09-18",
    kind="Validation",
    acted_upon=("day",),
    meaning="the day is a whole number from 1 to 31",
    advice="Write the day of the month as a number; 23rd and the like are proposed as one beside this.",
    examples="""
        day | status                         | result
        9   | RUN_HAS_RESULT                 | COMPLIANT
        09  | RUN_HAS_RESULT                 | COMPLIANT
        31  | RUN_HAS_RESULT                 | COMPLIANT
        0   | RUN_HAS_RESULT                 | NOT_COMPLIANT
        32  | RUN_HAS_RESULT                 | NOT_COMPLIANT
        -9  | RUN_HAS_RESULT                 | NOT_COMPLIANT
        9th | RUN_HAS_RESULT                 | NOT_COMPLIANT
        IX  | RUN_HAS_RESULT                 | NOT_COMPLIANT
        9.5 | RUN_HAS_RESULT                 | NOT_COMPLIANT
            | INTERNAL_PREREQUISITES_NOT_MET |
    """,
)
