"""A latitude between the poles."""

from pipeline.audit.audit_test import AuditTest, Response, cannot_say, compliant, is_empty, not_compliant
from pipeline.audit.decimal_number import decimal_number


def responds(decimal_latitude: str) -> Response:
    if is_empty(decimal_latitude):
        return cannot_say("decimalLatitude is empty")
    if (number := decimal_number(decimal_latitude)) is None:
        return cannot_say(f"decimalLatitude is {decimal_latitude!r}, not a number")
    if -90 <= number <= 90:
        return compliant()
    return not_compliant(f"decimalLatitude is {decimal_latitude!r}, outside -90 to 90")


TEST = AuditTest(
    label="VALIDATION_DECIMALLATITUDE_INRANGE",
    test_id="b6ecda2a-ce36-437a-b515-3ae94948fe83",
    updated="2023-09-18",
    kind="Validation",
    acted_upon=("decimalLatitude",),
    meaning="the latitude is a number from -90 to 90",
    advice="Look at the sheet again: latitude and longitude may be exchanged, the decimal point lost, or these"
    " are no degrees.",
    examples="""
        decimalLatitude | status                         | result
        45.5            | RUN_HAS_RESULT                 | COMPLIANT
        90              | RUN_HAS_RESULT                 | COMPLIANT
        -90             | RUN_HAS_RESULT                 | COMPLIANT
        0               | RUN_HAS_RESULT                 | COMPLIANT
        90.0001         | RUN_HAS_RESULT                 | NOT_COMPLIANT
        121.0534        | RUN_HAS_RESULT                 | NOT_COMPLIANT
        41.0554 N       | INTERNAL_PREREQUISITES_NOT_MET |
        45,5            | INTERNAL_PREREQUISITES_NOT_MET |
                        | INTERNAL_PREREQUISITES_NOT_MET |
    """,
)
