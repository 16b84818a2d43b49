"""A datum that is there."""

from pipeline.audit.audit_test import AuditTest, Response, compliant, is_empty, not_compliant


def responds(geodetic_datum: str) -> Response:
    return not_compliant("geodeticDatum is empty") if is_empty(geodetic_datum) else compliant()


TEST = AuditTest(
    label="VALIDATION_GEODETICDATUM_NOTEMPTY",
    test_id="239ec40e-a729-4a8e-ba69-e0bf03ac1c44",
    updated="2023-09-18",
    kind="Validation",
    acted_upon=("geodeticDatum",),
    meaning="it is said on which datum the coordinates stand",
    advice='Write the code of the datum, for coordinates of a telephone EPSG:4326; where nobody knows it, "not'
    ' recorded".',
    examples="""
        geodeticDatum | status         | result
        EPSG:4326     | RUN_HAS_RESULT | COMPLIANT
        not recorded  | RUN_HAS_RESULT | COMPLIANT
                      | RUN_HAS_RESULT | NOT_COMPLIANT
        \\t           | RUN_HAS_RESULT | NOT_COMPLIANT
    """,
    sees_only_whether_filled=True,
)
