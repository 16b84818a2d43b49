"""An id of a name that says who gave it."""

from pipeline.audit.audit_test import AuditTest, Response, cannot_say, compliant, is_empty, not_compliant
from pipeline.audit.identifiers import is_complete
from pipeline.audit.word_lists import shown


def responds(scientific_name_id: str) -> Response:
    if is_empty(scientific_name_id):
        return cannot_say("scientificNameID is empty")
    if is_complete(scientific_name_id):
        return compliant()
    return not_compliant(f"{shown(scientific_name_id)} is no LSID, URN or address with a path, and names no list")


TEST = AuditTest(
    label="VALIDATION_SCIENTIFICNAMEID_COMPLETE",
    test_id="6eeac3ed-f691-457f-a42e-eaa9c8a71ce8",
    updated="2023-09-18",
    kind="Validation",
    acted_upon=("scientificNameID",),
    meaning="the id of the name is an LSID, a URN, an address with a path, or has the name of its list before a colon",
    advice="Write the id with the list that gave it; a bare number may belong to any list.",
    examples=r"""
        scientificNameID                              | status                         | result
        urn:lsid:example.org:names:42                 | RUN_HAS_RESULT                 | COMPLIANT
        urn:uuid:8f1e7c3a-0d1b-4c5e-9a57-2f6f3d1f7a10 | RUN_HAS_RESULT                 | COMPLIANT
        https://example.org/names/42                  | RUN_HAS_RESULT                 | COMPLIANT
        https://example.org/names.php?id=42           | RUN_HAS_RESULT                 | COMPLIANT
        names:42                                      | RUN_HAS_RESULT                 | COMPLIANT
        42                                            | RUN_HAS_RESULT                 | NOT_COMPLIANT
        8f1e7c3a-0d1b-4c5e-9a57-2f6f3d1f7a10          | RUN_HAS_RESULT                 | NOT_COMPLIANT
        Danaus plexippus                              | RUN_HAS_RESULT                 | NOT_COMPLIANT
        https://example.org                           | RUN_HAS_RESULT                 | NOT_COMPLIANT
        https://example.org/                          | RUN_HAS_RESULT                 | NOT_COMPLIANT
        https://example.org/?id=42                    | RUN_HAS_RESULT                 | NOT_COMPLIANT
        https:///names/42                             | RUN_HAS_RESULT                 | NOT_COMPLIANT
        urn:lsid                                      | RUN_HAS_RESULT                 | NOT_COMPLIANT
        names: 42                                     | RUN_HAS_RESULT                 | NOT_COMPLIANT
        names:42\t                                    | RUN_HAS_RESULT                 | NOT_COMPLIANT
                                                      | INTERNAL_PREREQUISITES_NOT_MET |
    """,
)
