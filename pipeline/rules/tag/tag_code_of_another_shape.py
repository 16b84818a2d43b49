"""A code that does not have the shape of the programme's tags."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(x: pd.DataFrame) -> pd.Series:
    other_shape = x["tagCode_doubt"].isin(["another-shape", "check-character"])
    has_one_inside = (x["tagCode_doubt"] == "another-shape") & (x["tagCode_candidates"] != "")
    is_explained = (
        (x["look_alike_tag"] != "") | (x["damaged_tag_was"] != "") | (x["prefixed_tag"] != "") | has_one_inside
    )
    return (x["recordKind"] == "release") & other_shape & ~is_explained


def suggests(found: pd.DataFrame) -> dict[str, pd.Series]:
    return {"tagCode": found["nearest_own_tag"]}


RULE = Rule(
    title="A tag code of another shape",
    severity="must-answer",
    scope="row",
    asks="tagger",
    fields=("tagCode",),
    looked_up=(
        "tagCode_doubt",
        "tagCode_candidates",
        "look_alike_tag",
        "damaged_tag_was",
        "prefixed_tag",
        "nearest_own_tag",
        "tag_shape",
    ),
    each_row=True,
    message='In row {row} the code "{seen}" does not look like one of our tags ({tag_shape}), so no find'
    " could be matched with it. Of your tags not yet used only {suggestion} is one slip away. Was it that"
    " one?",
    unsuggested='In row {row} the code "{seen}" does not look like one of our tags ({tag_shape}), so no find'
    " could be matched with it. Could you read it once more from your paper?",
    why="a code that no tag carries can never be matched with a find",
    source="the programme's settings; one slip: our own simulation, 87 % of wrong codes outside a range of"
    " 25 have exactly one unused own code one character away",
    examples=Examples(
        finds="""
            tagCode | tagCode_doubt   | nearest_own_tag | suggests tagCode
            SM004   | another-shape   | SM0042          | SM0042
            4711    | another-shape   |                 |
            SM0042K | check-character | SM0042X         | SM0042X
        """,
        leaves="""
            tagCode | tagCode_doubt
            SM0042  |
        """,
        near_misses="""
            tagCode     | tagCode_doubt | look_alike_tag | damaged_tag_was | recordKind
            SMOO42      | another-shape | SM0042         |                 | release
            7.00E+12    | another-shape |                | 7E0012          | release
            SM004       | another-shape |                |                 | find
            SM0042/0043 | several-codes |                |                 | release
            none        | not-a-code    |                |                 | release

            tagCode     | tagCode_doubt | tagCode_candidates | prefixed_tag
            SM0042 (?)  | another-shape | SM0042             |
            0042        | another-shape |                    | SM0042
        """,
    ),
)
