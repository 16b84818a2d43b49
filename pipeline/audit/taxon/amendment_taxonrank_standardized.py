"""A rank, as the list writes it."""

from pipeline.audit.audit_test import AuditTest, Response
from pipeline.audit.word_lists import Spellings, Words, proposed


def responds(taxon_rank: str, words: Words, spellings: Spellings) -> Response:
    return proposed("taxonRank", taxon_rank, words, spellings)


TEST = AuditTest(
    label="AMENDMENT_TAXONRANK_STANDARDIZED",
    test_id="e39098df-ef46-464c-9aef-bcdeee2a88cb",
    updated="2023-09-18",
    kind="Amendment",
    acted_upon=("taxonRank",),
    parameters=("words", "spellings"),
    meaning="the rank is proposed as the list of ranks writes it, where only one can be meant",
    advice="Look at what is proposed, and write it if it is what was meant.",
    examples="""
        taxonRank   | status                         | result
        Species     | AMENDED                        | {"dwc:taxonRank": "species"}
        sp.         | AMENDED                        | {"dwc:taxonRank": "species"}
        ssp.        | AMENDED                        | {"dwc:taxonRank": "subspecies"}
        subsp       | AMENDED                        | {"dwc:taxonRank": "subspecies"}
        sous-espèce | AMENDED                        | {"dwc:taxonRank": "subspecies"}
        GENUS       | AMENDED                        | {"dwc:taxonRank": "genus"}
        varietas    | NOT_AMENDED                    |
        f.          | NOT_AMENDED                    |
        spp.        | NOT_AMENDED                    |
        species     | NOT_AMENDED                    |
        brood       | NOT_AMENDED                    |
                    | INTERNAL_PREREQUISITES_NOT_MET |
    """,
)
