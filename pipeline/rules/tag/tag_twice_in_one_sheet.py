"""The same code in more than one row of a table."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(x: pd.DataFrame) -> pd.Series:
    is_code = (x["recordKind"] == "release") & (x["tagCode"] != "") & (x["tagCode_doubt"] == "")
    twice = x.loc[is_code, ["table_id", "tagCode"]].duplicated(keep=False)
    return twice.reindex(x.index, fill_value=False)


RULE = Rule(
    title="The same tag twice in one sheet",
    severity="must-answer",
    scope="sheet",
    asks="tagger",
    fields=("tagCode",),
    looked_up=("tagCode_doubt",),
    each_row=True,
    waivable=False,
    message="Tag {tagCode} stands in row {row} and in another row of the same sheet, but a code belongs to"
    " one butterfly only. Did you meet the same butterfly again (then the later row is a find), or is one of"
    " the codes a slip? Which code is right here?",
    why="with one code on two releases no find can be told to the right one",
    source="common practice: a code is unique to one butterfly",
    examples=Examples(
        finds="""
            tagCode | table_id | found
            SM0042  | 1        | yes
            SM0043  | 1        | no
            SM0042  | 1        | yes
        """,
        leaves="""
            tagCode | table_id
            SM0042  | 1
            SM0043  | 1
        """,
        near_misses="""
            tagCode | table_id | recordKind | tagCode_doubt
            SM0042  | 1        | release    |
            SM0042  | 1        | find       |
            SM0042  | 2        | release    |
            none    | 1        | release    | not-a-code
            none    | 1        | release    | not-a-code
            ""      | 1        | release    |
            ""      | 1        | release    |
        """,
    ),
)
