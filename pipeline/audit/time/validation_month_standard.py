"""A month that is one of the twelve."""

from pipeline.audit.audit_test import AuditTest, Response, cannot_say, compliant, is_empty, not_compliant
from pipeline.audit.whole_number import whole_number


def responds(month: str) -> Response:
    if is_empty(month):
        return cannot_say("month is empty")
    if (number := whole_number(month)) is not None and 1 <= number <= 12:
        return compliant()
    return not_compliant(f"month is {month!r}, not a whole number from 1 to 12")


TEST = AuditTest(
    label="VALIDATION_MONTH_STANDARD",
    test_id="01c6dafa-0886-4b7e-9881-2c3018c98bdc",
    updated="2023-09-18",
    kind="Validation",
    acted_upon=("month",),
    meaning="the month is a whole number from 1 to 12",
    advice="Write the month as a number; a Roman numeral or a name of a month is proposed as one beside this.",
    examples="""
        month | status                         | result
        1     | RUN_HAS_RESULT                 | COMPLIANT
        09    | RUN_HAS_RESULT                 | COMPLIANT
        13    | RUN_HAS_RESULT                 | NOT_COMPLIANT
        0     | RUN_HAS_RESULT                 | NOT_COMPLIANT
        Sept  | RUN_HAS_RESULT                 | NOT_COMPLIANT
              | INTERNAL_PREREQUISITES_NOT_MET |
    """,
)
