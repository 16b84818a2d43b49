"""A sex, as the draft's list writes it."""

from pipeline.audit.audit_test import AuditTest, Response
from pipeline.audit.word_lists import Spellings, Words, proposed


def responds(sex: str, words: Words, spellings: Spellings) -> Response:
    return proposed("sex", sex, words, spellings)


TEST = AuditTest(
    label="AMENDMENT_SEX_STANDARDIZED",
    test_id="33c45ae1-e2db-462a-a59e-7169bb01c5d6",
    updated="2024-03-25",
    kind="Amendment",
    acted_upon=("sex",),
    parameters=("words", "spellings"),
    meaning="the sex is proposed as the draft's list writes it, where only one of its words can be meant",
    advice="The draft writes a capital, Darwin Core does not: follow the portal that takes the records.",
    examples="""
        sex           | status                         | result
        female        | AMENDED                        | {"dwc:sex": "Female"}
        F             | AMENDED                        | {"dwc:sex": "Female"}
        mâle          | AMENDED                        | {"dwc:sex": "Male"}
        ♂             | AMENDED                        | {"dwc:sex": "Male"}
        hembra        | AMENDED                        | {"dwc:sex": "Female"}
        indet.        | AMENDED                        | {"dwc:sex": "Indeterminate"}
        Female        | NOT_AMENDED                    |
        f?            | NOT_AMENDED                    |
        h             | NOT_AMENDED                    |
        1             | NOT_AMENDED                    |
        unknown       | NOT_AMENDED                    |
        hermaphrodite | NOT_AMENDED                    |
                      | INTERNAL_PREREQUISITES_NOT_MET |
    """,
)
