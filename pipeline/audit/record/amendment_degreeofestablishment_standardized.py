"""How far it has settled, as the list writes it."""

from pipeline.audit.audit_test import AuditTest, Response
from pipeline.audit.word_lists import Spellings, Words, proposed


def responds(degree_of_establishment: str, words: Words, spellings: Spellings) -> Response:
    return proposed("degreeOfEstablishment", degree_of_establishment, words, spellings)


TEST = AuditTest(
    label="AMENDMENT_DEGREEOFESTABLISHMENT_STANDARDIZED",
    test_id="74ef1034-e289-4596-b5b0-cde73796697d",
    updated="2024-04-16",
    kind="Amendment",
    acted_upon=("degreeOfEstablishment",),
    parameters=("words", "spellings"),
    meaning="how far the organism has settled is proposed in the list's word, where only one can be meant",
    advice="Look at what is proposed, and write it if it is what was meant.",
    examples="""
        degreeOfEstablishment | status                         | result
        Widespread_invasive   | AMENDED                        | {"dwc:degreeOfEstablishment": "widespreadInvasive"}
        colonizing            | AMENDED                        | {"dwc:degreeOfEstablishment": "colonising"}
        capt.                 | AMENDED                        | {"dwc:degreeOfEstablishment": "captive"}
        releassed             | AMENDED                        | {"dwc:degreeOfEstablishment": "released"}
        released              | NOT_AMENDED                    |
        settled               | NOT_AMENDED                    |
        naturalised           | NOT_AMENDED                    |
                              | INTERNAL_PREREQUISITES_NOT_MET |
    """,
)
