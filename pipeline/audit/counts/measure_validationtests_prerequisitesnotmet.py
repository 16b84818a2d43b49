"""How many validations could not judge the record."""

from pipeline.audit.audit_test import AuditTest, Response, cannot_say, counted


def responds(validations: int, number: int) -> Response:
    return counted(number, f"of {validations} validations") if validations else cannot_say("no validation was run")


TEST = AuditTest(
    label="MEASURE_VALIDATIONTESTS_PREREQUISITESNOTMET",
    test_id="49a94636-a562-4e6b-803c-665c80628a3d",
    updated="2024-08-18",
    kind="Measure",
    acted_upon=(),
    looked_up=("validations", "validations_without_prerequisites"),
    meaning="how many validations could not judge the record, for want of a value or of a list",
    advice="Fill what is empty, if it is known: an empty field cannot be judged.",
    examples="""
        validations | validations_without_prerequisites | status                         | result
        66          | 12                                | RUN_HAS_RESULT                 | 12
        66          | 66                                | RUN_HAS_RESULT                 | 66
        66          | 0                                 | RUN_HAS_RESULT                 | 0
        0           | 0                                 | INTERNAL_PREREQUISITES_NOT_MET |
    """,
)
