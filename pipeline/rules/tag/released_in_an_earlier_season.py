"""A release with a code whose release was published under an earlier season."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(rows: pd.DataFrame) -> pd.Series:
    return (rows["recordKind"] == "release") & (rows["tagCode"] != "") & (rows["released_before"] != "")


def suggests(found: pd.DataFrame) -> dict[str, pd.Series]:
    return {"tagCode": found["nearest_own_tag"]}


RULE = Rule(
    title="A tag that was let go in an earlier season",
    severity="must-answer",
    scope="row",
    asks="tagger",
    fields=("tagCode",),
    looked_up=("released_before", "nearest_own_tag"),
    each_row=True,
    waivable=False,
    message="Tag {tagCode} in row {row} was let go before, in season {released_before}, but a code belongs to one"
    " butterfly only, and a find of it could be told to the wrong person. Of your tags not yet used only"
    " {suggestion} is one slip away. Is it that one?",
    unsuggested="Tag {tagCode} in row {row} was let go before, in season {released_before}, but a code belongs to"
    " one butterfly only, and a find of it could be told to the wrong person. Is it a slip? Please read the code"
    " once more from your paper. If the tag was on the butterfly already when you met it, then it is a find, and"
    " welcome: please tell us.",
    why="with one code on the releases of two seasons no find can be told to the right one",
    source="common practice: a code is unique to one butterfly",
    examples=Examples(
        finds="""
            tagCode | recordKind | released_before | nearest_own_tag | suggests tagCode | found
            SM0042  | release    | 2025            |                 |                  | yes
            SM0142  | release    | 2024            | SM0143          | SM0143           | yes
            SM0043  | release    |                 |                 |                  | no
        """,
        leaves="""
            tagCode | released_before
            SM0042  |
        """,
        near_misses="""
            tagCode | recordKind | released_before | tag_season | rows_of_tag
            SM0042  | find       | 2025            | 2025       | 1
            SM0043  | release    |                 | 2025       | 1
            SM0044  | release    |                 | 2026       | 2
            ""      | release    | 2025            |            | 1
        """,
    ),
)
