"""More than one code, or a range of codes, in one cell."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(x: pd.DataFrame) -> pd.Series:
    return (x["recordKind"] == "release") & (x["tagCode_doubt"] == "several-codes")


RULE = Rule(
    title="Several tag codes in one cell",
    severity="must-answer",
    scope="row",
    asks="tagger",
    fields=("tagCode",),
    looked_up=("tagCode_doubt",),
    each_row=True,
    message='Row {row} holds more than one code or a range ("{seen}"), and we need one row for each'
    " butterfly, because each can be found by itself. Shall we split it into one row for each code, all with"
    " the same day and place?",
    why="a code is unique to one butterfly, and each butterfly is a record of its own",
    source="common practice",
    examples=Examples(
        finds="""
            tagCode         | tagCode_doubt
            SM0042 + SM0043 | several-codes
            SM0042-0045     | several-codes
        """,
        leaves="""
            tagCode | tagCode_doubt
            SM0042  |
        """,
        near_misses="""
            tagCode         | tagCode_doubt | recordKind
            SM00420043      | another-shape | release
            SM0042 + SM0043 | several-codes | find
        """,
    ),
)
