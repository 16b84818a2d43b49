"""The same code in two tables of one person."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(x: pd.DataFrame) -> pd.Series:
    is_code = (x["recordKind"] == "release") & (x["tagCode"] != "") & (x["tagCode_doubt"] == "")
    own = x.loc[is_code & (x["person_id"] != "")]
    again = own.loc[own.duplicated("tagCode", keep=False)]
    several = again.groupby(["person_id", "tagCode"])["table_id"].transform("nunique") > 1
    return several.reindex(x.index, fill_value=False)


RULE = Rule(
    title="The same tag in two of your sheets",
    severity="must-answer",
    scope="person",
    asks="tagger",
    fields=("tagCode",),
    looked_up=("tagCode_doubt",),
    each_row=True,
    message="Tag {tagCode} in row {row} also stands in another sheet of yours, but a code belongs to one"
    " butterfly only. Is it the same release written twice, did you meet the butterfly again (then the later"
    " row is a find), or is one of the codes a slip?",
    why="one release must not be counted twice, and two releases must not share a code",
    source="common practice: a code is unique to one butterfly",
    examples=Examples(
        finds="""
            tagCode | person_id | table_id | found
            SM0042  | anna      | 1        | yes
            SM0042  | anna      | 2        | yes
            SM0043  | anna      | 1        | no
            SM0042  | ben       | 3        | no
        """,
        leaves="""
            tagCode | person_id | table_id
            SM0042  | anna      | 1
            SM0043  | anna      | 2
        """,
        near_misses="""
            tagCode | person_id | table_id | recordKind | tagCode_doubt
            SM0042  | anna      | 1        | release    |
            SM0042  | anna      | 1        | release    |
            SM0042  | ben       | 2        | release    |
            SM0042  | ben       | 2        | release    |
            SM0043  | anna      | 3        | release    |
            SM0043  | anna      | 3        | release    |
            SM0042  | anna      | 3        | find       |
            SM0042  |           | 4        | release    |
            SM0042  |           | 5        | release    |
            lost    | anna      | 6        | release    | not-a-code
            lost    | anna      | 7        | release    | not-a-code
            ""      | anna      | 6        | release    |
            ""      | anna      | 7        | release    |
        """,
    ),
)
