"""Something that says what it was."""

from pipeline.audit.audit_test import AuditTest, Response, compliant, is_empty, not_compliant


def responds(*of_the_taxon: str) -> Response:
    if all(map(is_empty, of_the_taxon)):
        return not_compliant("no name, group or id of a taxon is given")
    return compliant()


TEST = AuditTest(
    label="VALIDATION_TAXON_NOTEMPTY",
    test_id="06851339-843f-4a43-8422-4e61b9a00e75",
    updated="2023-09-18",
    kind="Validation",
    acted_upon=(
        "taxonID",
        "scientificNameID",
        "acceptedNameUsageID",
        "parentNameUsageID",
        "originalNameUsageID",
        "taxonConceptID",
        "scientificName",
        "higherClassification",
        "kingdom",
        "phylum",
        "class",
        "order",
        "superfamily",
        "family",
        "subfamily",
        "tribe",
        "subtribe",
        "genus",
        "genericName",
        "subgenus",
        "infragenericEpithet",
        "specificEpithet",
        "infraspecificEpithet",
        "vernacularName",
        "cultivarEpithet",
    ),
    sees_only_whether_filled=True,
    meaning="a name, a group or an id says what the organism was",
    advice="Write at least the group: Lepidoptera, or butterfly as vernacularName.",
    examples=r"""
        scientificName   | taxonID | genus  | vernacularName | status         | result
        Danaus plexippus |         |        |                | RUN_HAS_RESULT | COMPLIANT
                         | 17      |        |                | RUN_HAS_RESULT | COMPLIANT
                         |         | Danaus |                | RUN_HAS_RESULT | COMPLIANT
                         |         |        | butterfly      | RUN_HAS_RESULT | COMPLIANT
        ?                |         |        |                | RUN_HAS_RESULT | COMPLIANT
        \t               |         |        |                | RUN_HAS_RESULT | NOT_COMPLIANT
                         |         |        |                | RUN_HAS_RESULT | NOT_COMPLIANT
    """,
)
