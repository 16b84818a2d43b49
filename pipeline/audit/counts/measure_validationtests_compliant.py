"""How many validations were content with the record."""

from pipeline.audit.audit_test import AuditTest, Response, cannot_say, counted


def responds(validations: int, number: int) -> Response:
    return counted(number, f"of {validations} validations") if validations else cannot_say("no validation was run")


TEST = AuditTest(
    label="MEASURE_VALIDATIONTESTS_COMPLIANT",
    test_id="45fb49eb-4a1b-4b49-876f-15d5034dfc73",
    updated="2024-08-18",
    kind="Measure",
    acted_upon=(),
    looked_up=("validations", "validations_compliant"),
    meaning="how many validations were content with the record",
    advice="Look at it beside the two other counts: the three add up to all validations.",
    examples="""
        validations | validations_compliant | status                         | result
        66          | 12                    | RUN_HAS_RESULT                 | 12
        66          | 66                    | RUN_HAS_RESULT                 | 66
        66          | 0                     | RUN_HAS_RESULT                 | 0
        0           | 0                     | INTERNAL_PREREQUISITES_NOT_MET |
    """,
)
