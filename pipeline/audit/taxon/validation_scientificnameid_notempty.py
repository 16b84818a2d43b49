"""An id of the scientific name."""

from pipeline.audit.audit_test import AuditTest, Response, compliant, is_empty, not_compliant


def responds(scientific_name_id: str) -> Response:
    return not_compliant("scientificNameID is empty") if is_empty(scientific_name_id) else compliant()


TEST = AuditTest(
    label="VALIDATION_SCIENTIFICNAMEID_NOTEMPTY",
    test_id="401bf207-9a55-4dff-88a5-abcd58ad97fa",
    updated="2023-09-18",
    kind="Validation",
    acted_upon=("scientificNameID",),
    sees_only_whether_filled=True,
    meaning="an id of the scientific name stands there",
    advice="Add the id that a list of names gives to this name.",
    examples=r"""
        scientificNameID              | status         | result
        urn:lsid:example.org:names:42 | RUN_HAS_RESULT | COMPLIANT
        42                            | RUN_HAS_RESULT | COMPLIANT
        \u00a0                        | RUN_HAS_RESULT | COMPLIANT
        \t                            | RUN_HAS_RESULT | NOT_COMPLIANT
                                      | RUN_HAS_RESULT | NOT_COMPLIANT
    """,
)
