"""A day in another form than a whole number."""

from pipeline.audit.audit_test import AuditTest, Response, amended, cannot_say, is_empty, not_amended
from pipeline.audit.day_and_month import day_meant
from pipeline.audit.whole_number import whole_number


def responds(day: str) -> Response:
    if is_empty(day):
        return cannot_say("day is empty")
    if whole_number(day) is not None:
        return not_amended("day is a whole number already")
    meant = day_meant(day)
    if meant is not None and 1 <= meant <= 31:
        return amended(f"day {day!r} can be read in one way only", day=str(meant))
    return not_amended(f"day {day!r} is no number from 1 to 31 that can be read in one way only")


TEST = AuditTest(
    label="AMENDMENT_DAY_STANDARDIZED",
    test_id="b129fa4d-b25b-43f7-9645-5ed4d44b357b",
    updated="2023-09-18",
    kind="Amendment",
    acted_upon=("day",),
    meaning="a day such as 23rd, which can only be one number, is written as that number",
    advice="Take over the proposal; look up in the field sheet what was left alone.",
    examples="""
        day          | status                         | result
        23rd         | AMENDED                        | {"dwc:day": "23"}
        1er          | AMENDED                        | {"dwc:day": "1"}
        9.           | AMENDED                        | {"dwc:day": "9"}
        9.0          | AMENDED                        | {"dwc:day": "9"}
        9            | NOT_AMENDED                    |
        09           | NOT_AMENDED                    |
        45           | NOT_AMENDED                    |
        32nd         | NOT_AMENDED                    |
        2th          | NOT_AMENDED                    |
        IX           | NOT_AMENDED                    |
        9-12         | NOT_AMENDED                    |
        2nd Saturday | NOT_AMENDED                    |
                     | INTERNAL_PREREQUISITES_NOT_MET |
    """,
)
