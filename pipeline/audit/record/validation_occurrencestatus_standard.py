"""Found or not found, in a word of the list."""

from pipeline.audit.audit_test import AuditTest, Response
from pipeline.audit.word_lists import Words, judged


def responds(occurrence_status: str, words: Words) -> Response:
    return judged("occurrenceStatus", occurrence_status, words)


TEST = AuditTest(
    label="VALIDATION_OCCURRENCESTATUS_STANDARD",
    test_id="7af25f1e-a4e2-4ff4-b161-d1f25a5c3e47",
    updated="2025-02-18",
    kind="Validation",
    acted_upon=("occurrenceStatus",),
    parameters=("words",),
    meaning="it is present or absent, sign by sign",
    advice=(
        "The draft takes present and absent only. Darwin Core itself has had detected and notDetected since May "
        "2026: those are no slips."
    ),
    examples=r"""
        occurrenceStatus | status                         | result
        present          | RUN_HAS_RESULT                 | COMPLIANT
        absent           | RUN_HAS_RESULT                 | COMPLIANT
        Present          | RUN_HAS_RESULT                 | NOT_COMPLIANT
        present\t        | RUN_HAS_RESULT                 | NOT_COMPLIANT
        found            | RUN_HAS_RESULT                 | NOT_COMPLIANT
        detected         | RUN_HAS_RESULT                 | NOT_COMPLIANT
                         | INTERNAL_PREREQUISITES_NOT_MET |
    """,
)
