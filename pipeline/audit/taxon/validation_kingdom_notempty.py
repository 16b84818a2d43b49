"""A kingdom that stands there."""

from pipeline.audit.audit_test import AuditTest, Response, compliant, is_empty, not_compliant


def responds(kingdom: str) -> Response:
    return not_compliant("kingdom is empty") if is_empty(kingdom) else compliant()


TEST = AuditTest(
    label="VALIDATION_KINGDOM_NOTEMPTY",
    test_id="36ed36c9-b1a7-40b2-b5e2-0d012e772098",
    updated="2024-01-28",
    kind="Validation",
    acted_upon=("kingdom",),
    sees_only_whether_filled=True,
    meaning="the kingdom is given",
    advice="Write the kingdom: the same name may stand for a butterfly and for a plant.",
    examples=r"""
        kingdom  | status         | result
        Animalia | RUN_HAS_RESULT | COMPLIANT
        ?        | RUN_HAS_RESULT | COMPLIANT
        \u00a0   | RUN_HAS_RESULT | COMPLIANT
        \t       | RUN_HAS_RESULT | NOT_COMPLIANT
                 | RUN_HAS_RESULT | NOT_COMPLIANT
    """,
)
