"""Whether it belongs where it was, in a word of the list."""

from pipeline.audit.audit_test import AuditTest, Response
from pipeline.audit.word_lists import Words, judged


def responds(establishment_means: str, words: Words) -> Response:
    return judged("establishmentMeans", establishment_means, words)


TEST = AuditTest(
    label="VALIDATION_ESTABLISHMENTMEANS_STANDARD",
    test_id="4eb48fdf-7299-4d63-9d08-246902e2857f",
    updated="2024-02-08",
    kind="Validation",
    acted_upon=("establishmentMeans",),
    parameters=("words",),
    meaning="whether the organism belongs where it was is said in a word of Darwin Core's list",
    advice="Write a word of Darwin Core's list, such as native or introduced.",
    examples=r"""
        establishmentMeans             | status                         | result
        native                         | RUN_HAS_RESULT                 | COMPLIANT
        introducedAssistedColonisation | RUN_HAS_RESULT                 | COMPLIANT
        Native                         | RUN_HAS_RESULT                 | NOT_COMPLIANT
        vagrant\u00a0                  | RUN_HAS_RESULT                 | NOT_COMPLIANT
        reared                         | RUN_HAS_RESULT                 | NOT_COMPLIANT
                                       | INTERNAL_PREREQUISITES_NOT_MET |
    """,
)
