"""An uncertainty that a point on Earth can have."""

from pipeline.audit.audit_test import AuditTest, Response, cannot_say, compliant, is_empty, not_compliant
from pipeline.audit.decimal_number import decimal_number
from pipeline.values.uncertainty import LARGEST


def responds(uncertainty: str) -> Response:
    if is_empty(uncertainty):
        return cannot_say("coordinateUncertaintyInMeters is empty")
    if (number := decimal_number(uncertainty)) is None:
        return not_compliant(f"coordinateUncertaintyInMeters is {uncertainty!r}, not a number")
    if 1 <= number <= LARGEST:
        return compliant()
    return not_compliant(f"coordinateUncertaintyInMeters is {uncertainty!r}, outside 1 to {LARGEST}")


TEST = AuditTest(
    label="VALIDATION_COORDINATEUNCERTAINTY_INRANGE",
    test_id="c6adf2ea-3051-4498-97f4-4b2f8a105f57",
    updated="2023-09-18",
    kind="Validation",
    acted_upon=("coordinateUncertaintyInMeters",),
    meaning="the uncertainty is a number of metres from 1 to half the equator",
    advice="Write the radius in metres; leave it empty where it is not known, for 0 would claim a point without"
    " any error.",
    examples="""
        coordinateUncertaintyInMeters | status                         | result
        1                             | RUN_HAS_RESULT                 | COMPLIANT
        30                            | RUN_HAS_RESULT                 | COMPLIANT
        20037509                      | RUN_HAS_RESULT                 | COMPLIANT
        0                             | RUN_HAS_RESULT                 | NOT_COMPLIANT
        0.5                           | RUN_HAS_RESULT                 | NOT_COMPLIANT
        -1                            | RUN_HAS_RESULT                 | NOT_COMPLIANT
        20037510                      | RUN_HAS_RESULT                 | NOT_COMPLIANT
        30 m                          | RUN_HAS_RESULT                 | NOT_COMPLIANT
                                      | INTERNAL_PREREQUISITES_NOT_MET |
    """,
)
