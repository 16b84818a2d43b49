"""A code of which only the digits were written."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(x: pd.DataFrame) -> pd.Series:
    is_short = x["tagCode_doubt"].isin(["another-shape", "became-a-number"]) & (x["prefixed_tag"] != "")
    is_explained = (x["look_alike_tag"] != "") | (x["damaged_tag_was"] != "") | (x["tagCode_candidates"] != "")
    return (x["recordKind"] == "release") & is_short & ~is_explained


def suggests(found: pd.DataFrame) -> dict[str, pd.Series]:
    return {"tagCode": found["prefixed_tag"]}


RULE = Rule(
    title="Only the digits of a tag code",
    severity="must-answer",
    scope="row",
    asks="tagger",
    fields=("tagCode",),
    looked_up=("tagCode_doubt", "tagCode_candidates", "look_alike_tag", "damaged_tag_was", "prefixed_tag"),
    message='Row {row} has only digits for the code, "{seen}", and other tags of ours may end in the same ones. Of your'
    " tags not yet used only {suggestion} ends so. Is it that one?",
    unsuggested='Row {row} has only digits for the code, "{seen}", and several of our tags may end in the same ones.'
    " Could you read the whole code from your paper?",
    why="without its letters a code may be one of several tags",
    source="mess found in real field sheets: a prefix dropped in 466 of 1,629 cells of a code column",
    examples=Examples(
        finds="""
            tagCode | tagCode_kind | tagCode_doubt   | prefixed_tag | suggests tagCode
            0042    | t            | another-shape   | SM0042       | SM0042
            42      | n            | became-a-number | SM0042       | SM0042
        """,
        leaves="""
            tagCode | tagCode_doubt
            SM0042  |
        """,
        near_misses="""
            tagCode                 | tagCode_doubt   | prefixed_tag | damaged_tag_was | recordKind
            0042                    | another-shape   |              |                 | release
            123                     | became-a-number | 00123        | 00123           | release
            0041 fell off, now 0042 | re-tagged       | SM0042       |                 | release
            0042                    | another-shape   | SM0042       |                 | find
        """,
    ),
)
