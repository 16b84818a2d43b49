"""The same code in the sheets of two people."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(x: pd.DataFrame) -> pd.Series:
    is_code = (x["recordKind"] == "release") & (x["tagCode"] != "") & (x["tagCode_doubt"] == "")
    is_whose = is_code & (x["person_id"] != "")
    people = x.loc[is_whose, ["tagCode", "person_id"]].drop_duplicates()
    several = people["tagCode"][people["tagCode"].duplicated()]
    return is_whose & x["tagCode"].isin(several)


RULE = Rule(
    title="The same tag in two people's sheets",
    severity="must-answer",
    scope="season",
    asks="tagger",
    fields=("tagCode",),
    looked_up=("tagCode_doubt",),
    each_row=True,
    waivable=False,
    message="Tag {tagCode} in row {row} has also come in from somebody else, but a code belongs to one"
    " butterfly only. Was it already on the butterfly when you met it? Then it is a find, and welcome. If"
    " you put it on, please read it once more from your paper.",
    why="with one code on two people's releases no find can be told to the right one",
    source="common practice: a code is unique to one butterfly",
    examples=Examples(
        finds="""
            tagCode | person_id | table_id | recordKind | found
            SM0042  | anna      | 1        | release    | yes
            SM0043  | anna      | 1        | release    | no
            SM0042  | ben       | 2        | release    | yes
            SM0042  | cleo      | 3        | find       | no
        """,
        leaves="""
            tagCode | person_id | table_id
            SM0042  | anna      | 1
            SM0043  | ben       | 2
        """,
        near_misses="""
            tagCode | person_id | table_id | recordKind | tagCode_doubt
            SM0042  | anna      | 1        | release    |
            SM0042  | anna      | 2        | release    |
            SM0042  | ben       | 3        | find       |
            SM0042  |           | 4        | release    |
            none    | anna      | 1        | release    | not-a-code
            none    | ben       | 3        | release    | not-a-code
            ""      | anna      | 1        | release    |
            ""      | ben       | 3        | release    |
        """,
    ),
)
