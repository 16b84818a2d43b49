"""A release with a tag that was handed to another person, outside the sender's group."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(x: pd.DataFrame) -> pd.Series:
    is_code = (x["recordKind"] == "release") & (x["tagCode"] != "") & x["tag_shape_fits"]
    is_anothers = (x["tag_person_id"] != "") & (x["tag_person_id"] != x["person_id"]) & ~x["is_group_tag"]
    return is_code & is_anothers & x["is_sender_known"] & (x["look_alike_tag"] == "")


def suggests(found: pd.DataFrame) -> dict[str, pd.Series]:
    return {"tagCode": found["nearest_own_tag"]}


RULE = Rule(
    title="A tag handed to somebody else",
    severity="must-answer",
    scope="row",
    asks="tagger",
    fields=("tagCode",),
    looked_up=(
        "tag_shape_fits",
        "tag_person_id",
        "is_group_tag",
        "is_sender_known",
        "look_alike_tag",
        "nearest_own_tag",
    ),
    each_row=True,
    message="Tag {tagCode} in row {row} was handed to another tagger, and a find of it would be told to the"
    " wrong person. Of your tags not yet used only {suggestion} is one slip away. Is it that one, or did you"
    " swap tags with somebody?",
    unsuggested="Tag {tagCode} in row {row} was handed to another tagger, and a find of it would be told to"
    " the wrong person. Did you swap tags with somebody, or could you read the code once more from your"
    " paper?",
    why="a find is told to the person who released the butterfly",
    source="the programme's list of tags; one slip: our own simulation, 82 % of wrong codes fall outside the"
    " sender's range of 25",
    examples=Examples(
        finds="""
            tagCode | person_id | tag_person_id | nearest_own_tag | suggests tagCode
            SM0142  | anna      | ben           | SM0042          | SM0042
            SM0199  | anna      | ben           |                 |
        """,
        leaves="""
            tagCode | person_id | tag_person_id
            SM0042  | anna      | anna
        """,
        near_misses="""
            tagCode | person_id | tag_person_id | is_group_tag | is_sender_known | tag_shape_fits
            SM0142  | anna      | ben           | yes          | yes             | yes
            SM0142  |           | ben           | no           | no              | yes
            SM0142  | anna      |               | no           | yes             | yes
            SM014   | anna      | ben           | no           | yes             | no

            tagCode | person_id | tag_person_id | look_alike_tag | recordKind
            SM0018  | anna      | ben           | SM0010         | release
            SM0142  | anna      | ben           |                | find
            ""      | anna      | ben           |                | release
        """,
    ),
)
