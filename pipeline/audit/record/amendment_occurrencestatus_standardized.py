"""Found or not found, as the list writes it."""

from pipeline.audit.audit_test import AuditTest, Response
from pipeline.audit.word_lists import Spellings, Words, proposed


def responds(occurrence_status: str, words: Words, spellings: Spellings) -> Response:
    return proposed("occurrenceStatus", occurrence_status, words, spellings)


TEST = AuditTest(
    label="AMENDMENT_OCCURRENCESTATUS_STANDARDIZED",
    test_id="f8f3a093-042c-47a3-971a-a482aaaf3b75",
    updated="2025-03-03",
    kind="Amendment",
    acted_upon=("occurrenceStatus",),
    parameters=("words", "spellings"),
    meaning="present or absent is proposed, where only one of them can be meant",
    advice="Look at what is proposed. Darwin Core's own detected and notDetected are left as they are.",
    examples="""
        occurrenceStatus | status                         | result
        Present          | AMENDED                        | {"dwc:occurrenceStatus": "present"}
        1                | AMENDED                        | {"dwc:occurrenceStatus": "present"}
        0                | AMENDED                        | {"dwc:occurrenceStatus": "absent"}
        ABSENT           | AMENDED                        | {"dwc:occurrenceStatus": "absent"}
        present          | NOT_AMENDED                    |
        detected         | NOT_AMENDED                    |
        notDetected      | NOT_AMENDED                    |
        2                | NOT_AMENDED                    |
        ?                | NOT_AMENDED                    |
                         | INTERNAL_PREREQUISITES_NOT_MET |
    """,
)
