"""How many validations found fault with the record."""

from pipeline.audit.audit_test import AuditTest, Response, cannot_say, counted


def responds(validations: int, number: int) -> Response:
    return counted(number, f"of {validations} validations") if validations else cannot_say("no validation was run")


TEST = AuditTest(
    label="MEASURE_VALIDATIONTESTS_NOTCOMPLIANT",
    test_id="453844ae-9df4-439f-8e24-c52498eca84a",
    updated="2024-08-22",
    kind="Measure",
    acted_upon=(),
    looked_up=("validations", "validations_not_compliant"),
    meaning="how many validations found fault with the record",
    advice="Begin with the records where this is highest.",
    examples="""
        validations | validations_not_compliant | status                         | result
        66          | 12                        | RUN_HAS_RESULT                 | 12
        66          | 66                        | RUN_HAS_RESULT                 | 66
        66          | 0                         | RUN_HAS_RESULT                 | 0
        0           | 0                         | INTERNAL_PREREQUISITES_NOT_MET |
    """,
)
