"""A find without a code."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(x: pd.DataFrame) -> pd.Series:
    is_blank = (x["tagCode"] == "") | (x["tagCode_doubt"] == "not-a-code")
    return (x["recordKind"] == "find") & is_blank & ~x["tag_column_is_missing"]


RULE = Rule(
    title="A find without a code",
    severity="must-answer",
    scope="row",
    asks="finder",
    fields=("tagCode",),
    looked_up=("tagCode_doubt", "tag_column_is_missing"),
    each_row=True,
    message="Your find in row {row} came without the code of its tag, and only the code tells where the"
    " butterfly came from. Could you read it on the tag or on a photo? A part of it helps as well.",
    why="only the code joins a find to its release",
    source="common practice",
    examples=Examples(
        finds="""
            tagCode  | tagCode_doubt | recordKind
            ""       |               | find
            unknown  | not-a-code    | find
        """,
        leaves="""
            tagCode | recordKind
            SM0042  | find
        """,
        near_misses="""
            tagCode | tagCode_doubt | recordKind | tag_column_is_missing
            ""      |               | release    | no
            ""      |               | find       | yes
            SM004   | another-shape | find       | no
        """,
    ),
)
