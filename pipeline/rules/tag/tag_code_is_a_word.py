"""A word where the code of a tag should stand."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(x: pd.DataFrame) -> pd.Series:
    return (x["recordKind"] == "release") & (x["tagCode_doubt"] == "not-a-code")


RULE = Rule(
    title="A word in place of a tag code",
    severity="must-answer",
    scope="row",
    asks="tagger",
    fields=("tagCode",),
    looked_up=("tagCode_doubt",),
    each_row=True,
    message='In row {row} the tag is given as "{seen}", and without its code nobody who finds the butterfly'
    " can tell that it was yours. Did it fly with a tag? If so, which one; if not, or if you no longer know,"
    " please say that.",
    why="only the code joins a find to its release, and a butterfly without a tag is no release",
    source="common practice",
    examples=Examples(
        finds="""
            tagCode | tagCode_doubt
            none    | not-a-code
            perdue  | not-a-code
        """,
        leaves="""
            tagCode | tagCode_doubt
            SM0042  |
        """,
        near_misses="""
            tagCode | tagCode_doubt | recordKind
            SM004   | another-shape | release
            ""      |               | release
            none    | not-a-code    | find
        """,
    ),
)
