"""A release with a tag that was allotted to nobody."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(x: pd.DataFrame) -> pd.Series:
    is_code = (x["recordKind"] == "release") & (x["tagCode"] != "") & x["tag_shape_fits"]
    is_nobodys = x["is_allotment_known"] & (x["tag_person_id"] == "")
    return is_code & is_nobodys & (x["look_alike_tag"] == "")


def suggests(found: pd.DataFrame) -> dict[str, pd.Series]:
    return {"tagCode": found["nearest_own_tag"]}


RULE = Rule(
    title="A tag that was not handed out",
    severity="must-answer",
    scope="row",
    asks="tagger",
    fields=("tagCode",),
    looked_up=("tag_shape_fits", "is_allotment_known", "tag_person_id", "look_alike_tag", "nearest_own_tag"),
    each_row=True,
    message="Tag {tagCode} in row {row} has not been handed out, so it may be a slip in the code. Of your"
    " tags not yet used only {suggestion} is one slip away. Was it that one?",
    unsuggested="Tag {tagCode} in row {row} has not been handed out, so it may be a slip in the code. Could"
    " you read it once more from your paper?",
    why="a code that nobody was given is more often misread than real",
    source="the programme's list of tags; one slip: our own simulation, 87 % of wrong codes outside a range"
    " of 25 have exactly one unused own code one character away",
    examples=Examples(
        finds="""
            tagCode | tag_person_id | nearest_own_tag | suggests tagCode
            SM9042  |               | SM0042          | SM0042
            SM9999  |               |                 |
        """,
        leaves="""
            tagCode | tag_person_id
            SM0042  | anna
        """,
        near_misses="""
            tagCode | tag_person_id | is_allotment_known | tag_shape_fits | look_alike_tag | recordKind
            SM9042  | ben           | yes                | yes            |                | release
            SM9042  |               | no                 | yes            |                | release
            SM904   |               | yes                | no             |                | release
            5M0042  |               | yes                | yes            | SM0042         | release
            SM9042  |               | yes                | yes            |                | find
            ""      |               | yes                | yes            |                | release
        """,
    ),
)
