"""Two heights in their order."""

from pipeline.audit.audit_test import AuditTest, Response, cannot_say, compliant, is_empty, not_compliant
from pipeline.audit.decimal_number import decimal_number


def responds(minimum_elevation: str, maximum_elevation: str) -> Response:
    if is_empty(minimum_elevation) or is_empty(maximum_elevation):
        return cannot_say("one of the two heights is empty")
    low, high = decimal_number(minimum_elevation), decimal_number(maximum_elevation)
    if low is None or high is None:
        return cannot_say(f"the heights are {minimum_elevation!r} and {maximum_elevation!r}, not two numbers")
    if low <= high:
        return compliant()
    return not_compliant(f"the lowest height, {minimum_elevation!r}, is more than the highest, {maximum_elevation!r}")


TEST = AuditTest(
    label="VALIDATION_MINELEVATION_LESSTHAN_MAXELEVATION",
    test_id="d708526b-6561-438e-aa1a-82cd80b06396",
    updated="2023-09-18",
    kind="Validation",
    acted_upon=("minimumElevationInMeters", "maximumElevationInMeters"),
    meaning="the lowest height is not more than the highest",
    advice="See whether the two were exchanged.",
    examples="""
        minimumElevationInMeters | maximumElevationInMeters | status                         | result
        5                        | 12                       | RUN_HAS_RESULT                 | COMPLIANT
        5                        | 5                        | RUN_HAS_RESULT                 | COMPLIANT
        -2                       | 0                        | RUN_HAS_RESULT                 | COMPLIANT
        9                        | 12                       | RUN_HAS_RESULT                 | COMPLIANT
        12                       | 5                        | RUN_HAS_RESULT                 | NOT_COMPLIANT
        5 m                      | 12 m                     | INTERNAL_PREREQUISITES_NOT_MET |
        5                        |                          | INTERNAL_PREREQUISITES_NOT_MET |
                                 |                          | INTERNAL_PREREQUISITES_NOT_MET |
    """,
)
