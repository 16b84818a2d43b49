"""A find with a code that no tag of ours carries."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(x: pd.DataFrame) -> pd.Series:
    # Words and damaged cells are asked about by themselves.
    is_code = (x["tagCode"] != "") & ~x["tagCode_doubt"].isin(["not-a-code", "error-cell", "formula"])
    was_allotted = (x["tag_season"] != "") | ~x["is_allotment_known"]
    return (x["recordKind"] == "find") & is_code & ~x["has_release"] & ~(x["tag_shape_fits"] & was_allotted)


RULE = Rule(
    title="A found code that is not known",
    severity="must-answer",
    scope="row",
    asks="finder",
    fields=("tagCode",),
    looked_up=("tagCode_doubt", "has_release", "tag_shape_fits", "tag_season", "is_allotment_known"),
    each_row=True,
    message='The code of your find in row {row} was read as "{seen}", and we have no such tag, so we cannot'
    " say where the butterfly came from. Could you read it once more? A photo helps, and so does a part of"
    " the code.",
    why="people who read marks for the first time often misread a letter, and a guess would name the wrong release",
    source="the programme's list of tags; common practice",
    examples=Examples(
        finds="""
            tagCode | recordKind | tag_shape_fits | tag_season | is_allotment_known
            SM004   | find       | no             |            | yes
            SM004   | find       | no             |            | no
            SM9999  | find       | yes            |            | yes
        """,
        leaves="""
            tagCode | recordKind | tag_season
            SM0042  | find       | 2026
        """,
        near_misses="""
            tagCode | recordKind | tag_shape_fits | tag_season | is_allotment_known | has_release
            SM9999  | find       | yes            |            | no                 | no
            SM9999  | find       | yes            |            | yes                | yes
            SM004   | find       | no             |            | yes                | yes
            SM0042  | find       | yes            | 2025       | yes                | no
            SM004   | release    | no             |            | yes                | no
            ""      | find       | no             |            | yes                | no

            tagCode | recordKind | tag_shape_fits | tag_season | tagCode_doubt
            unknown | find       | no             |            | not-a-code
            #N/A    | find       | no             |            | error-cell
            =A2     | find       | no             |            | formula
        """,
    ),
)
