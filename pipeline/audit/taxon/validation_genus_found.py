"""A genus that is in the list of names."""

from pipeline.audit.audit_test import AuditTest, Response
from pipeline.audit.names import KnownNames, found_at


def responds(genus: str, taxa: KnownNames) -> Response:
    return found_at("genus", genus, taxa)


TEST = AuditTest(
    label="VALIDATION_GENUS_FOUND",
    test_id="f2ce7d55-5b1d-426a-b00e-6d4efe3058ec",
    updated="2023-09-18",
    kind="Validation",
    acted_upon=("genus",),
    parameters=("taxa",),
    meaning="the genus is a name of that rank in the list of names",
    advice="Look how the name is written. Our list holds butterflies only: of others it says nothing.",
    examples="""
        genus            | status                         | result
        Danaus           | RUN_HAS_RESULT                 | COMPLIANT
        Battus           | RUN_HAS_RESULT                 | COMPLIANT
        Basilarchia      | RUN_HAS_RESULT                 | COMPLIANT
        danaus           | RUN_HAS_RESULT                 | NOT_COMPLIANT
        Danaus plexippus | RUN_HAS_RESULT                 | NOT_COMPLIANT
        Nymphalidae      | RUN_HAS_RESULT                 | NOT_COMPLIANT
        Bombus           | EXTERNAL_PREREQUISITES_NOT_MET |
        Morio            | EXTERNAL_PREREQUISITES_NOT_MET |
                         | INTERNAL_PREREQUISITES_NOT_MET |
    """,
)
