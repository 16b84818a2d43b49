"""A highest height that land on Earth has."""

from pipeline.audit.audit_test import AuditTest, Response, cannot_say, compliant, is_empty, not_compliant
from pipeline.audit.decimal_number import decimal_number


def responds(maximum_elevation: str, *, minimum_valid_elevation: float, maximum_valid_elevation: float) -> Response:
    if is_empty(maximum_elevation):
        return cannot_say("maximumElevationInMeters is empty")
    if (number := decimal_number(maximum_elevation)) is None:
        return cannot_say(f"maximumElevationInMeters is {maximum_elevation!r}, not a number")
    if minimum_valid_elevation <= number <= maximum_valid_elevation:
        return compliant()
    bounds = f"{minimum_valid_elevation:g} to {maximum_valid_elevation:g} m"
    return not_compliant(f"maximumElevationInMeters is {maximum_elevation!r}, outside {bounds}")


TEST = AuditTest(
    label="VALIDATION_MAXELEVATION_INRANGE",
    test_id="c971fe3f-84c1-4636-9f44-b1ec31fd63c7",
    updated="2023-09-18",
    kind="Validation",
    acted_upon=("maximumElevationInMeters",),
    meaning="the highest height lies between those of the lowest and the highest land on Earth",
    advice="See whether it was written in feet or with a lost decimal point.",
    examples="""
        maximumElevationInMeters | status                         | result
        0                        | RUN_HAS_RESULT                 | COMPLIANT
        12.5                     | RUN_HAS_RESULT                 | COMPLIANT
        -430                     | RUN_HAS_RESULT                 | COMPLIANT
        8850                     | RUN_HAS_RESULT                 | COMPLIANT
        -431                     | RUN_HAS_RESULT                 | NOT_COMPLIANT
        9000                     | RUN_HAS_RESULT                 | NOT_COMPLIANT
        12 m                     | INTERNAL_PREREQUISITES_NOT_MET |
                                 | INTERNAL_PREREQUISITES_NOT_MET |
    """,
    parameters=("minimum_valid_elevation", "maximum_valid_elevation"),
)
