"""A family that is in the list of names."""

from pipeline.audit.audit_test import AuditTest, Response
from pipeline.audit.names import KnownNames, found_at


def responds(family: str, taxa: KnownNames) -> Response:
    return found_at("family", family, taxa)


TEST = AuditTest(
    label="VALIDATION_FAMILY_FOUND",
    test_id="3667556d-d8f5-454c-922b-af8af38f613c",
    updated="2023-09-17",
    kind="Validation",
    acted_upon=("family",),
    parameters=("taxa",),
    meaning="the family is a name of that rank in the list of names",
    advice="Look how the name is written. Our list holds butterflies only: of others it says nothing.",
    examples="""
        family       | status                         | result
        Nymphalidae  | RUN_HAS_RESULT                 | COMPLIANT
        Papilionidae | RUN_HAS_RESULT                 | COMPLIANT
        nymphalidae  | RUN_HAS_RESULT                 | NOT_COMPLIANT
        Lepidoptera  | RUN_HAS_RESULT                 | NOT_COMPLIANT
        Danaus       | RUN_HAS_RESULT                 | NOT_COMPLIANT
        Apidae       | EXTERNAL_PREREQUISITES_NOT_MET |
        Nymphalidea  | EXTERNAL_PREREQUISITES_NOT_MET |
                     | INTERNAL_PREREQUISITES_NOT_MET |
    """,
)
