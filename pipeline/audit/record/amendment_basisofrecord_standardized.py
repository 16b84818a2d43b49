"""What the record rests on, as Darwin Core writes it."""

from pipeline.audit.audit_test import AuditTest, Response
from pipeline.audit.word_lists import Spellings, Words, proposed


def responds(basis_of_record: str, words: Words, spellings: Spellings) -> Response:
    return proposed("basisOfRecord", basis_of_record, words, spellings)


TEST = AuditTest(
    label="AMENDMENT_BASISOFRECORD_STANDARDIZED",
    test_id="07c28ace-561a-476e-a9b9-3d5ad6e35933",
    updated="2024-07-24",
    kind="Amendment",
    acted_upon=("basisOfRecord",),
    parameters=("words", "spellings"),
    meaning="what the record rests on is proposed as Darwin Core writes it, where only one of its classes can be meant",
    advice="Look at what is proposed, and write it if it is what was meant.",
    examples="""
        basisOfRecord | status | result
        human observation | AMENDED | {"dwc:basisOfRecord": "HumanObservation"}
        HUMAN_OBSERVATION | AMENDED | {"dwc:basisOfRecord": "HumanObservation"}
        Human obs. | AMENDED | {"dwc:basisOfRecord": "HumanObservation"}
        dwc:PreservedSpecimen | AMENDED | {"dwc:basisOfRecord": "PreservedSpecimen"}
        http://rs.tdwg.org/dwc/terms/MachineObservation | AMENDED | {"dwc:basisOfRecord": "MachineObservation"}
        HumanObservation | NOT_AMENDED |
        specimen | NOT_AMENDED |
        observation | NOT_AMENDED |
        sighting | NOT_AMENDED |
         | INTERNAL_PREREQUISITES_NOT_MET |
    """,
)
