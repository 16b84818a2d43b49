"""How far it has settled, in a word of the list."""

from pipeline.audit.audit_test import AuditTest, Response
from pipeline.audit.word_lists import Words, judged


def responds(degree_of_establishment: str, words: Words) -> Response:
    return judged("degreeOfEstablishment", degree_of_establishment, words)


TEST = AuditTest(
    label="VALIDATION_DEGREEOFESTABLISHMENT_STANDARD",
    test_id="060e7734-607d-4737-8b2c-bfa17788bf1a",
    updated="2024-02-09",
    kind="Validation",
    acted_upon=("degreeOfEstablishment",),
    parameters=("words",),
    meaning="how far the organism has settled is said in a word of Darwin Core's list",
    advice="Write a word of Darwin Core's list, such as captive, released or established.",
    examples="""
        degreeOfEstablishment | status                         | result
        captive               | RUN_HAS_RESULT                 | COMPLIANT
        widespreadInvasive    | RUN_HAS_RESULT                 | COMPLIANT
        Captive               | RUN_HAS_RESULT                 | NOT_COMPLIANT
        colonizing            | RUN_HAS_RESULT                 | NOT_COMPLIANT
        in a cage             | RUN_HAS_RESULT                 | NOT_COMPLIANT
                              | INTERNAL_PREREQUISITES_NOT_MET |
    """,
)
