"""A code that becomes one of the sender's own when letters and digits that look alike are exchanged."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(x: pd.DataFrame) -> pd.Series:
    is_own = x["tag_shape_fits"] & ((x["tag_person_id"] == x["person_id"]) | x["is_group_tag"])
    return (x["recordKind"] == "release") & (x["look_alike_tag"] != "") & ~is_own


def suggests(found: pd.DataFrame) -> dict[str, pd.Series]:
    return {"tagCode": found["look_alike_tag"]}


RULE = Rule(
    title="Signs that look alike in a tag code",
    severity="must-answer",
    scope="row",
    asks="tagger",
    fields=("tagCode",),
    looked_up=("look_alike_tag", "tag_shape_fits", "tag_person_id", "is_group_tag"),
    each_row=True,
    message='In row {row} the code "{seen}" is not one of your tags, but it would be if signs that'
    " look alike (O and 0, I and 1, S and 5, B and 8, or a letter of another alphabet) were taken for each other. Is it"
    " {suggestion}?",
    unsuggested='In row {row} the code "{seen}" is not one of your tags, perhaps because signs look'
    " alike (O and 0, I and 1, S and 5, B and 8, or a letter of another alphabet). Could you read it once more"
    " from your paper?",
    why="look-alikes are the commonest slip in copying a code, and either reading may be a real tag",
    source="common practice",
    examples=Examples(
        finds="""
            tagCode | tag_shape_fits | tag_person_id | look_alike_tag | suggests tagCode
            SMOO42  | no             |               | SM0042         | SM0042
            SM0O42  | no             | anna          | SM0042         | SM0042
            5M0042  | yes            |               | SM0042         | SM0042
            SM0018  | yes            | ben           | SM0010         | SM0010
        """,
        leaves="""
            tagCode | look_alike_tag
            SM0042  |
        """,
        near_misses="""
            tagCode | tag_shape_fits | tag_person_id | is_group_tag | look_alike_tag | recordKind
            SM0018  | yes            | anna          | no           | SM0010         | release
            SM0018  | yes            | ben           | yes          | SM0010         | release
            SMOO42  | no             |               | no           |                | release
            SMOO42  | no             |               | no           | SM0042         | find
        """,
    ),
)
