"""A kind of thing, as the list writes it."""

from pipeline.audit.audit_test import AuditTest, Response
from pipeline.audit.word_lists import Spellings, Words, proposed


def responds(dc_type: str, words: Words, spellings: Spellings) -> Response:
    return proposed("type", dc_type, words, spellings)


TEST = AuditTest(
    label="AMENDMENT_DCTYPE_STANDARDIZED",
    test_id="bd385eeb-44a2-464b-a503-7abe407ef904",
    updated="2024-08-16",
    kind="Amendment",
    acted_upon=("type",),
    parameters=("words", "spellings"),
    meaning="the kind of thing is proposed as the DCMI list writes it, where only one of its words can be meant",
    advice="Look at what is proposed, and write it if it is what was meant.",
    examples=r"""
        type                                   | status                         | result
        event                                  | AMENDED                        | {"dc:type": "Event"}
        physical_object                        | AMENDED                        | {"dc:type": "PhysicalObject"}
        Physcial Object                        | AMENDED                        | {"dc:type": "PhysicalObject"}
        Event\t                                | AMENDED                        | {"dc:type": "Event"}
        http://purl.org/dc/dcmitype/StillImage | AMENDED                        | {"dc:type": "StillImage"}
        evnt                                   | AMENDED                        | {"dc:type": "Event"}
        Event                                  | NOT_AMENDED                    |
        imago                                  | NOT_AMENDED                    |
        specimen                               | NOT_AMENDED                    |
                                               | INTERNAL_PREREQUISITES_NOT_MET |
    """,
)
