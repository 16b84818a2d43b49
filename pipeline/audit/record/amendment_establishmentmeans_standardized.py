"""Whether it belongs where it was, as the list writes it."""

from pipeline.audit.audit_test import AuditTest, Response
from pipeline.audit.word_lists import Spellings, Words, proposed


def responds(establishment_means: str, words: Words, spellings: Spellings) -> Response:
    return proposed("establishmentMeans", establishment_means, words, spellings)


TEST = AuditTest(
    label="AMENDMENT_ESTABLISHMENTMEANS_STANDARDIZED",
    test_id="15d15927-7a22-43f8-88d6-298f5eb45c4c",
    updated="2024-02-08",
    kind="Amendment",
    acted_upon=("establishmentMeans",),
    parameters=("words", "spellings"),
    meaning="whether the organism belongs where it was is proposed in the list's word, where only one can be meant",
    advice="Look at what is proposed, and write it if it is what was meant.",
    examples="""
        establishmentMeans | status | result
        Native | AMENDED | {"dwc:establishmentMeans": "native"}
        native endemic | AMENDED | {"dwc:establishmentMeans": "nativeEndemic"}
        vag. | AMENDED | {"dwc:establishmentMeans": "vagrant"}
        http://rs.tdwg.org/dwcem/values/e003 | AMENDED | {"dwc:establishmentMeans": "introduced"}
        native | NOT_AMENDED |
        naturalised | NOT_AMENDED |
        reared | NOT_AMENDED |
         | INTERNAL_PREREQUISITES_NOT_MET |
    """,
)
