"""By which way it came, as the list writes it."""

from pipeline.audit.audit_test import AuditTest, Response
from pipeline.audit.word_lists import Spellings, Words, proposed


def responds(pathway: str, words: Words, spellings: Spellings) -> Response:
    return proposed("pathway", pathway, words, spellings)


TEST = AuditTest(
    label="AMENDMENT_PATHWAY_STANDARDIZED",
    test_id="f9205977-f145-44f5-8cb9-e3e2e35ce908",
    updated="2024-09-18",
    kind="Amendment",
    acted_upon=("pathway",),
    parameters=("words", "spellings"),
    meaning="by which way the organism came is proposed in the list's word, where only one can be meant",
    advice="Look at what is proposed, and write it if it is what was meant.",
    examples="""
        pathway                              | status                         | result
        Natural dispersal                    | AMENDED                        | {"dwc:pathway": "naturalDispersal"}
        RESEARCH                             | AMENDED                        | {"dwc:pathway": "research"}
        http://rs.tdwg.org/dwcpw/values/p018 | AMENDED                        | {"dwc:pathway": "research"}
        hul fouling                          | AMENDED                        | {"dwc:pathway": "hullFouling"}
        research                             | NOT_AMENDED                    |
        school project                       | NOT_AMENDED                    |
        transport                            | NOT_AMENDED                    |
                                             | INTERNAL_PREREQUISITES_NOT_MET |
    """,
)
