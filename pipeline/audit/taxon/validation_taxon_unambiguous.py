"""A name that can only mean one taxon."""

from collections.abc import Mapping

from pipeline.audit.audit_test import (
    AuditTest,
    Response,
    cannot_say,
    compliant,
    is_empty,
    not_compliant,
    source_is_missing,
)
from pipeline.audit.classification import is_of_plants_or_fungi
from pipeline.audit.names import NO_NAMES, NOT_CARRIED, RANKS, KnownNames, Name, is_authorship, is_common_name, name_in
from pipeline.audit.word_lists import loosely, shown

PARTS = ("genericName", "specificEpithet", "infraspecificEpithet")
NAMING = ("scientificNameID", "scientificName", *PARTS, "scientificNameAuthorship", "cultivarEpithet")


def responds(*values: str, taxa: KnownNames) -> Response:
    if not taxa:
        return source_is_missing(NO_NAMES)
    terms = zip(TEST.acted_upon + TEST.consulted, values, strict=True)
    record = {term: "" if is_empty(value) else value for term, value in terms}
    if not any(record[term] for term in NAMING):
        return cannot_say("no name and no part of a name is given")
    if record["scientificNameID"]:
        return source_is_missing("scientificNameID is given, and our list of names holds no ids")
    if not record["scientificName"] and not record["genericName"]:
        return not_compliant("epithets and authors without a genus belong to many taxa")
    return _of_name(record["scientificName"] or " ".join(record[part] for part in PARTS if record[part]), record, taxa)


def _of_name(written: str, record: Mapping[str, str], taxa: KnownNames) -> Response:
    name = name_in(written, taxa)
    if name and not _leaves_doubt(name, record, taxa):
        return compliant(f"{written} is {name.taxon}" if name.taxon != name.name else "")
    if not name and is_common_name(written, taxa):
        return not_compliant(f"{shown(written)} is a common name; several taxa may bear it")
    return source_is_missing(f"{shown(written)}: {NOT_CARRIED} whether it means one taxon")


def _leaves_doubt(name: Name, record: Mapping[str, str], taxa: KnownNames) -> bool:
    groups = {rank: record[rank] for rank in RANKS}
    if record["cultivarEpithet"] or is_of_plants_or_fungi(groups):
        return True
    if name.rank == "genus":
        # Animals and plants may share the name of a genus (Pieris): a group above it tells.
        above = taxa.above.get(("genus", loosely(name.name)), {})
        return not any(groups[rank] and loosely(groups[rank]) == loosely(group) for rank, group in above.items())
    author = record["scientificNameAuthorship"]
    return not record["scientificName"] and bool(author) and not is_authorship(author, name)


TEST = AuditTest(
    label="VALIDATION_TAXON_UNAMBIGUOUS",
    test_id="4c09f127-737b-4686-82a0-7c8e30841590",
    updated="2023-09-18",
    kind="Validation",
    acted_upon=("scientificName", "scientificNameID"),
    consulted=(
        "taxonID",
        "acceptedNameUsageID",
        "originalNameUsageID",
        "taxonConceptID",
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
        "cultivarEpithet",
        "vernacularName",
        "scientificNameAuthorship",
        "taxonRank",
    ),
    parameters=("taxa",),
    meaning="the name, or the id of the name, can only mean one taxon of the list of names",
    advice=(
        "Write the whole name with its authorship, and the groups above it. Our list holds butterflies only and no ids."
    ),
    examples="""
        scientificName|scientificNameID|genericName|specificEpithet|scientificNameAuthorship|kingdom|status|result
        Danaus plexippus |  |  |  |  |  | RUN_HAS_RESULT | COMPLIANT
        Danaus plexippus (Linnaeus, 1758) |  |  |  |  | Animalia | RUN_HAS_RESULT | COMPLIANT
        Anosia plexippus |  |  |  |  |  | RUN_HAS_RESULT | COMPLIANT
         |  | Danaus | plexippus |  |  | RUN_HAS_RESULT | COMPLIANT
         |  | Danaus | plexippus | (Linnaeus, 1758) |  | RUN_HAS_RESULT | COMPLIANT
        Pieris |  |  |  |  | Animalia | RUN_HAS_RESULT | COMPLIANT
        Nymphalidae |  |  |  |  |  | RUN_HAS_RESULT | COMPLIANT
        swallowtail |  |  |  |  |  | RUN_HAS_RESULT | NOT_COMPLIANT
         |  |  | canadensis |  |  | RUN_HAS_RESULT | NOT_COMPLIANT
         |  |  |  | (Linnaeus, 1758) |  | RUN_HAS_RESULT | NOT_COMPLIANT
        Pieris |  |  |  |  |  | EXTERNAL_PREREQUISITES_NOT_MET |
        Pieris |  |  |  |  | Plantae | EXTERNAL_PREREQUISITES_NOT_MET |
        Bombus impatiens |  |  |  |  |  | EXTERNAL_PREREQUISITES_NOT_MET |
         |  | Danaus | plexippus | Smith, 1900 |  | EXTERNAL_PREREQUISITES_NOT_MET |
        Danaus plexippus | names:42 |  |  |  |  | EXTERNAL_PREREQUISITES_NOT_MET |
         |  |  |  |  | Animalia | INTERNAL_PREREQUISITES_NOT_MET |
         |  |  |  |  |  | INTERNAL_PREREQUISITES_NOT_MET |
    """,
)
