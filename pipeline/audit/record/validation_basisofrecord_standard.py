"""What the record rests on, in a word of the list."""

from pipeline.audit.audit_test import AuditTest, Response
from pipeline.audit.word_lists import Words, judged


def responds(basis_of_record: str, words: Words) -> Response:
    return judged("basisOfRecord", basis_of_record, words)


TEST = AuditTest(
    label="VALIDATION_BASISOFRECORD_STANDARD",
    test_id="42408a00-bf71-4892-a399-4325e2bc1fb8",
    updated="2024-08-18",
    kind="Validation",
    acted_upon=("basisOfRecord",),
    parameters=("words",),
    meaning="what the record rests on is the name of a class of Darwin Core, sign by sign",
    advice="Write it as Darwin Core does: HumanObservation, no blanks, both capitals.",
    examples=r"""
        basisOfRecord      | status                         | result
        HumanObservation   | RUN_HAS_RESULT                 | COMPLIANT
        Organism           | RUN_HAS_RESULT                 | COMPLIANT
        humanobservation   | RUN_HAS_RESULT                 | NOT_COMPLIANT
        Human Observation  | RUN_HAS_RESULT                 | NOT_COMPLIANT
        HumanObservation\t | RUN_HAS_RESULT                 | NOT_COMPLIANT
        Sighting           | RUN_HAS_RESULT                 | NOT_COMPLIANT
                           | INTERNAL_PREREQUISITES_NOT_MET |
    """,
)
