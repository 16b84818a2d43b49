"""A kind of thing that is a word of the list."""

from pipeline.audit.audit_test import AuditTest, Response
from pipeline.audit.word_lists import Words, judged


def responds(dc_type: str, words: Words) -> Response:
    return judged("type", dc_type, words)


TEST = AuditTest(
    label="VALIDATION_DCTYPE_STANDARD",
    test_id="cdaabb0d-a863-49d0-bc0f-738d771acba5",
    updated="2023-09-18",
    kind="Validation",
    acted_upon=("type",),
    parameters=("words",),
    meaning="the kind of thing is, sign by sign, a word of the DCMI list",
    advice="Write one of the words of the DCMI list; what can be told is proposed beside this.",
    examples=r"""
        type                              | status                         | result
        Event                             | RUN_HAS_RESULT                 | COMPLIANT
        PhysicalObject                    | RUN_HAS_RESULT                 | COMPLIANT
        event                             | RUN_HAS_RESULT                 | NOT_COMPLIANT
        Physical Object                   | RUN_HAS_RESULT                 | NOT_COMPLIANT
        Event\u00a0                       | RUN_HAS_RESULT                 | NOT_COMPLIANT
        http://purl.org/dc/dcmitype/Event | RUN_HAS_RESULT                 | NOT_COMPLIANT
        Butterfly                         | RUN_HAS_RESULT                 | NOT_COMPLIANT
                                          | INTERNAL_PREREQUISITES_NOT_MET |
    """,
)
