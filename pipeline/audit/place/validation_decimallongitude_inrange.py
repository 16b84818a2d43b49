"""A longitude that is not more than half round the globe."""

from pipeline.audit.audit_test import AuditTest, Response, cannot_say, compliant, is_empty, not_compliant
from pipeline.audit.decimal_number import decimal_number


def responds(decimal_longitude: str) -> Response:
    if is_empty(decimal_longitude):
        return cannot_say("decimalLongitude is empty")
    if (number := decimal_number(decimal_longitude)) is None:
        return cannot_say(f"decimalLongitude is {decimal_longitude!r}, not a number")
    if -180 <= number <= 180:
        return compliant()
    return not_compliant(f"decimalLongitude is {decimal_longitude!r}, outside -180 to 180")


TEST = AuditTest(
    label="VALIDATION_DECIMALLONGITUDE_INRANGE",
    test_id="0949110d-c06b-450e-9649-7c1374d940d1",
    updated="2023-09-17",
    kind="Validation",
    acted_upon=("decimalLongitude",),
    meaning="the longitude is a number from -180 to 180",
    advice="Look at the sheet again: latitude and longitude may be exchanged, the decimal point lost, or these"
    " are no degrees.",
    examples="""
        decimalLongitude | status                         | result
        -64.8            | RUN_HAS_RESULT                 | COMPLIANT
        180              | RUN_HAS_RESULT                 | COMPLIANT
        -180             | RUN_HAS_RESULT                 | COMPLIANT
        0                | RUN_HAS_RESULT                 | COMPLIANT
        181.0554         | RUN_HAS_RESULT                 | NOT_COMPLIANT
        -180.5           | RUN_HAS_RESULT                 | NOT_COMPLIANT
        64.8 W           | INTERNAL_PREREQUISITES_NOT_MET |
                         | INTERNAL_PREREQUISITES_NOT_MET |
    """,
)
