"""A point that is not where the equator meets Greenwich."""

from pipeline.audit.audit_test import AuditTest, Response, cannot_say, compliant, is_empty, not_compliant
from pipeline.audit.decimal_number import decimal_number


def responds(latitude: str, longitude: str) -> Response:
    if is_empty(latitude) or is_empty(longitude):
        return cannot_say("latitude or longitude is empty")
    north, east = decimal_number(latitude), decimal_number(longitude)
    if north is None or east is None:
        return cannot_say(f"the coordinates are {latitude!r} and {longitude!r}, not two numbers")
    return compliant() if north or east else not_compliant("both coordinates are 0, as where nothing was entered")


TEST = AuditTest(
    label="VALIDATION_COORDINATES_NOTZERO",
    test_id="1bf0e210-6792-4128-b8cc-ab6828aa4871",
    updated="2023-06-20",
    kind="Validation",
    acted_upon=("decimalLatitude", "decimalLongitude"),
    meaning="latitude and longitude are not both 0",
    advice="Leave coordinates empty that nobody knows; enter the true ones if the sheet has them.",
    examples="""
        decimalLatitude | decimalLongitude | status                         | result
        45.5            | -64.8            | RUN_HAS_RESULT                 | COMPLIANT
        0               | -71.53           | RUN_HAS_RESULT                 | COMPLIANT
        45.5            | 0                | RUN_HAS_RESULT                 | COMPLIANT
        0               | 0                | RUN_HAS_RESULT                 | NOT_COMPLIANT
        0.0             | -0               | RUN_HAS_RESULT                 | NOT_COMPLIANT
        45.5 N          | 0                | INTERNAL_PREREQUISITES_NOT_MET |
        0               |                  | INTERNAL_PREREQUISITES_NOT_MET |
                        |                  | INTERNAL_PREREQUISITES_NOT_MET |
    """,
)
