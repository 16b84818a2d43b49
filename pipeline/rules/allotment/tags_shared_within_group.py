"""A release with a tag of another person of the sender's group."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(x: pd.DataFrame) -> pd.Series:
    return (x["recordKind"] == "release") & (x["tagCode"] != "") & x["is_group_tag"]


RULE = Rule(
    title="Tags shared within a group",
    severity="please-check",
    scope="row",
    asks="tagger",
    fields=("tagCode",),
    looked_up=("is_group_tag",),
    message="Tag {tagCode} in row {row} was handed to somebody else in your group, and a find of it should"
    " be told to the one who released the butterfly. Did you share tags?",
    why="sharing within a family or class is usual, and worth knowing when a tag is found",
    source="the programme's list of tags; common practice",
    examples=Examples(
        finds="""
            tagCode | tag_person_id | is_group_tag
            SM0142  | ben           | yes
        """,
        leaves="""
            tagCode | tag_person_id | is_group_tag
            SM0042  | anna          | no
        """,
        near_misses="""
            tagCode | tag_person_id | is_group_tag | recordKind
            SM0142  | ben           | no           | release
            SM0142  | ben           | yes          | find
            ""      | ben           | yes          | release
        """,
    ),
)
