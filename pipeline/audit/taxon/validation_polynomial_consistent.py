"""A name that is made of the parts that stand beside it."""

from pipeline.audit.audit_test import AuditTest, Response, cannot_say, compliant, is_empty, not_compliant
from pipeline.audit.epithets import parts_of, without_cross
from pipeline.audit.word_lists import shown


def responds(scientific_name: str, *parts: str) -> Response:
    if is_empty(scientific_name):
        return cannot_say("scientificName is empty")
    if all(map(is_empty, parts)):
        return cannot_say("genericName, specificEpithet and infraspecificEpithet are empty")
    for term, part, in_name in zip(TEST.acted_upon[1:], parts, parts_of(scientific_name), strict=True):
        if not is_empty(part) and without_cross(part) != in_name:
            return not_compliant(f"{term} is {shown(part)}, in the name stands {in_name or 'none'}")
    return compliant()


TEST = AuditTest(
    label="VALIDATION_POLYNOMIAL_CONSISTENT",
    test_id="17f03f1f-f74d-40c0-8071-2927cfc9487b",
    updated="2023-09-18",
    kind="Validation",
    acted_upon=("scientificName", "genericName", "specificEpithet", "infraspecificEpithet"),
    meaning="genus and epithets, where they are given, are those of the scientific name",
    advice="Look which of the two is right: the name, or the parts beside it.",
    examples="""
        scientificName | genericName | specificEpithet | infraspecificEpithet | status | result
        Danaus plexippus | Danaus | plexippus |  | RUN_HAS_RESULT | COMPLIANT
        Danaus plexippus (Linnaeus, 1758) | Danaus | plexippus |  | RUN_HAS_RESULT | COMPLIANT
        Danaus plexippus |  | plexippus |  | RUN_HAS_RESULT | COMPLIANT
        Danaus plexippus plexippus | Danaus |  | plexippus | RUN_HAS_RESULT | COMPLIANT
        Limenitis arthemis subsp. astyanax | Limenitis | arthemis | astyanax | RUN_HAS_RESULT | COMPLIANT
        Danaus (Danaus) plexippus | Danaus | plexippus |  | RUN_HAS_RESULT | COMPLIANT
        Asclepias syriaca var. kansana (Vail) E.J.Palmer & Steyerm. |  | syriaca | kansana | RUN_HAS_RESULT | COMPLIANT
        Nymphalis l-album | Nymphalis | l-album |  | RUN_HAS_RESULT | COMPLIANT
        Danaus plexippus plexippus | Danaus | plexippus |  | RUN_HAS_RESULT | COMPLIANT
        Danaus plexippus | Danaus | gilippus |  | RUN_HAS_RESULT | NOT_COMPLIANT
        Danaus plexippus | Anosia | plexippus |  | RUN_HAS_RESULT | NOT_COMPLIANT
        Danaus plexippus | Danaus | plexippus | megalippe | RUN_HAS_RESULT | NOT_COMPLIANT
        Danaus plexippus | Danaus | Plexippus |  | RUN_HAS_RESULT | NOT_COMPLIANT
        Danaus | Danaus | plexippus |  | RUN_HAS_RESULT | NOT_COMPLIANT
        Danaus plexippus |  |  |  | INTERNAL_PREREQUISITES_NOT_MET |
         | Danaus | plexippus |  | INTERNAL_PREREQUISITES_NOT_MET |
         |  |  |  | INTERNAL_PREREQUISITES_NOT_MET |
    """,
)
