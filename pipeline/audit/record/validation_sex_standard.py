"""A sex in a word of the list."""

from pipeline.audit.audit_test import AuditTest, Response
from pipeline.audit.word_lists import Words, judged


def responds(sex: str, words: Words) -> Response:
    return judged("sex", sex, words)


TEST = AuditTest(
    label="VALIDATION_SEX_STANDARD",
    test_id="88d8598b-3318-483d-9475-a5acf9887404",
    updated="2024-02-09",
    kind="Validation",
    acted_upon=("sex",),
    parameters=("words",),
    meaning="the sex is Female, Male or Indeterminate, sign by sign",
    advice="The draft writes them with a capital, Darwin Core without: follow the portal that takes the records.",
    examples=r"""
        sex           | status                         | result
        Female        | RUN_HAS_RESULT                 | COMPLIANT
        Male          | RUN_HAS_RESULT                 | COMPLIANT
        Indeterminate | RUN_HAS_RESULT                 | COMPLIANT
        female        | RUN_HAS_RESULT                 | NOT_COMPLIANT
        f             | RUN_HAS_RESULT                 | NOT_COMPLIANT
        Male\t        | RUN_HAS_RESULT                 | NOT_COMPLIANT
        2             | RUN_HAS_RESULT                 | NOT_COMPLIANT
                      | INTERNAL_PREREQUISITES_NOT_MET |
    """,
)
