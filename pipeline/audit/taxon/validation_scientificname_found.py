"""A scientific name that is in the list of names."""

from pipeline.audit.audit_test import AuditTest, Response
from pipeline.audit.names import KnownNames, found


def responds(scientific_name: str, taxa: KnownNames) -> Response:
    return found(scientific_name, taxa)


TEST = AuditTest(
    label="VALIDATION_SCIENTIFICNAME_FOUND",
    test_id="3f335517-f442-4b98-b149-1e87ff16de45",
    updated="2023-09-17",
    kind="Validation",
    acted_upon=("scientificName",),
    parameters=("taxa",),
    meaning="the scientific name is in the list of names, with or without its authorship",
    advice="Look how the name is written. Our list holds butterflies only: of others it says nothing.",
    examples="""
        scientificName                    | status                         | result
        Danaus plexippus                  | RUN_HAS_RESULT                 | COMPLIANT
        Danaus plexippus (Linnaeus, 1758) | RUN_HAS_RESULT                 | COMPLIANT
        Danaus plexippus Linnaeus 1758    | RUN_HAS_RESULT                 | COMPLIANT
        Danaus plexippus plexippus        | RUN_HAS_RESULT                 | COMPLIANT
        Anosia plexippus                  | RUN_HAS_RESULT                 | COMPLIANT
        Nymphalidae                       | RUN_HAS_RESULT                 | COMPLIANT
        danaus plexippus                  | RUN_HAS_RESULT                 | NOT_COMPLIANT
        Danaus_plexippus                  | RUN_HAS_RESULT                 | NOT_COMPLIANT
        Monarch butterfly                 | RUN_HAS_RESULT                 | NOT_COMPLIANT
        monarch                           | RUN_HAS_RESULT                 | NOT_COMPLIANT
        Danaus plexipus                   | EXTERNAL_PREREQUISITES_NOT_MET |
        Danaus plexippus Smith, 1900      | EXTERNAL_PREREQUISITES_NOT_MET |
        Danaus erippus                    | EXTERNAL_PREREQUISITES_NOT_MET |
        Bombus impatiens                  | EXTERNAL_PREREQUISITES_NOT_MET |
                                          | INTERNAL_PREREQUISITES_NOT_MET |
    """,
)
