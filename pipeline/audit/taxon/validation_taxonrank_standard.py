"""A rank that is a word of the list."""

from pipeline.audit.audit_test import AuditTest, Response
from pipeline.audit.word_lists import Words, judged


def responds(taxon_rank: str, words: Words) -> Response:
    return judged("taxonRank", taxon_rank, words)


TEST = AuditTest(
    label="VALIDATION_TAXONRANK_STANDARD",
    test_id="7bdb13a4-8a51-4ee5-be7f-20693fdb183e",
    updated="2023-09-18",
    kind="Validation",
    acted_upon=("taxonRank",),
    parameters=("words",),
    meaning="the rank is, sign by sign, a word of the list of ranks",
    advice="Write the rank in full and in small letters: species, subspecies, genus.",
    examples=r"""
        taxonRank    | status                         | result
        species      | RUN_HAS_RESULT                 | COMPLIANT
        nothospecies | RUN_HAS_RESULT                 | COMPLIANT
        varietas     | RUN_HAS_RESULT                 | COMPLIANT
        Species      | RUN_HAS_RESULT                 | NOT_COMPLIANT
        sp.          | RUN_HAS_RESULT                 | NOT_COMPLIANT
        genus\u00a0  | RUN_HAS_RESULT                 | NOT_COMPLIANT
        brood        | RUN_HAS_RESULT                 | NOT_COMPLIANT
                     | INTERNAL_PREREQUISITES_NOT_MET |
    """,
)
