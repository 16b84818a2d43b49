"""By which way it came, in a word of the list."""

from pipeline.audit.audit_test import AuditTest, Response
from pipeline.audit.word_lists import Words, judged


def responds(pathway: str, words: Words) -> Response:
    return judged("pathway", pathway, words)


TEST = AuditTest(
    label="VALIDATION_PATHWAY_STANDARD",
    test_id="5424e933-bee7-4125-839e-d8743ea69f93",
    updated="2024-02-09",
    kind="Validation",
    acted_upon=("pathway",),
    parameters=("words",),
    meaning="by which way the organism came is said in a word of Darwin Core's list",
    advice="Write a word of Darwin Core's list, such as research or releasedForUse.",
    examples="""
        pathway           | status                         | result
        research          | RUN_HAS_RESULT                 | COMPLIANT
        naturalDispersal  | RUN_HAS_RESULT                 | COMPLIANT
        natural dispersal | RUN_HAS_RESULT                 | NOT_COMPLIANT
        Research          | RUN_HAS_RESULT                 | NOT_COMPLIANT
        on a truck        | RUN_HAS_RESULT                 | NOT_COMPLIANT
                          | INTERNAL_PREREQUISITES_NOT_MET |
    """,
)
