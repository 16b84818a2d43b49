"""Groups that can all hold at once."""

from pipeline.audit.audit_test import (
    AuditTest,
    Response,
    cannot_say,
    compliant,
    is_empty,
    not_compliant,
    source_is_missing,
)
from pipeline.audit.classification import placed
from pipeline.audit.names import NO_NAMES, NOT_CARRIED, RANKS, KnownNames


def responds(*groups: str, taxa: KnownNames) -> Response:
    if not taxa:
        return source_is_missing(NO_NAMES)
    if all(map(is_empty, groups)):
        return cannot_say("no group from kingdom to genus is given")
    known = placed(dict(zip(TEST.acted_upon, groups, strict=True)), taxa)
    if known.disagrees:
        return not_compliant(known.disagrees)
    if known.unknown or not known.lowest:
        return source_is_missing(f"{', '.join(known.unknown) or 'these groups'}: {NOT_CARRIED}")
    others = [rank for rank, group in zip(TEST.acted_upon, groups, strict=True) if rank not in RANKS and group.strip()]
    return compliant(f"not compared: {', '.join(others)}" if others else "")


TEST = AuditTest(
    label="VALIDATION_CLASSIFICATION_CONSISTENT",
    test_id="2750c040-1d4a-4149-99fe-0512785f2d5f",
    updated="2023-09-18",
    kind="Validation",
    acted_upon=(
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
    ),
    parameters=("taxa",),
    meaning="the groups from kingdom to genus agree with what the list of names has above the lowest of them",
    advice="Look which of the groups is meant. Where our list has no such rank, nothing is compared.",
    examples="""
        kingdom | class | order | family | subfamily | genus | status | result
        Animalia | Insecta | Lepidoptera | Nymphalidae |  | Danaus | RUN_HAS_RESULT | COMPLIANT
         |  |  | nymphalidae | Danainae | Danaus | RUN_HAS_RESULT | COMPLIANT
        Animalia |  |  |  |  |  | RUN_HAS_RESULT | COMPLIANT
         |  |  | Papilionidae |  | Danaus | RUN_HAS_RESULT | NOT_COMPLIANT
         |  | Coleoptera | Nymphalidae |  |  | RUN_HAS_RESULT | NOT_COMPLIANT
        Plantae |  |  | Nymphalidae |  | Danaus | RUN_HAS_RESULT | NOT_COMPLIANT
         |  | Coleoptera | Nymphalidae |  | Idea | RUN_HAS_RESULT | NOT_COMPLIANT
        Plantae |  | Ericales | Ericaceae |  | Pieris | EXTERNAL_PREREQUISITES_NOT_MET |
        Metazoa |  |  | Nymphalidae |  | Danaus | EXTERNAL_PREREQUISITES_NOT_MET |
        Animalia |  |  | Apidae |  | Bombus | EXTERNAL_PREREQUISITES_NOT_MET |
         |  | Lepidoptera | Nymphalidae |  | Idea | EXTERNAL_PREREQUISITES_NOT_MET |
         |  |  |  | Danainae |  | EXTERNAL_PREREQUISITES_NOT_MET |
         |  |  |  |  |  | INTERNAL_PREREQUISITES_NOT_MET |
    """,
)
