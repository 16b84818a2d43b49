"""A release without a tag code."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(x: pd.DataFrame) -> pd.Series:
    # Where the whole column is missing, that is one question about the sheet.
    return (x["recordKind"] == "release") & (x["tagCode"] == "") & ~x["tag_column_is_missing"]


def suggests(found: pd.DataFrame) -> dict[str, pd.Series]:
    return {"tagCode": found["gap_tag"]}


RULE = Rule(
    title="A release without a tag code",
    severity="must-answer",
    scope="row",
    asks="tagger",
    fields=("tagCode",),
    looked_up=("tag_column_is_missing", "gap_tag"),
    each_row=True,
    message="Row {row} has no tag code, and without it nobody who finds the butterfly can tell that it was"
    " yours. Between the tags of the rows around it only {suggestion} has not been heard of. Was it that"
    " one?",
    unsuggested="Row {row} has no tag code, and without it nobody who finds the butterfly can tell that it"
    ' was yours. Could you look it up on your paper? If you no longer know, "I do not know" is a good'
    " answer.",
    why="only the code joins a find to its release",
    source="common practice",
    examples=Examples(
        finds="""
            tagCode | gap_tag | eventDate  | suggests tagCode
            ""      | SM0043  | 2026-09-03 | SM0043
            ""      |         | 2026-09-03 |
        """,
        leaves="""
            tagCode | eventDate
            SM0042  | 2026-09-03
        """,
        near_misses="""
            tagCode | tagCode_doubt | recordKind | tag_column_is_missing
            none    | not-a-code    | release    | no
            ""      |               | find       | no
            ""      |               | release    | yes
        """,
    ),
)
