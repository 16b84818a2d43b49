"""The same code in the sheets of two people."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(x: pd.DataFrame) -> pd.Series:
    is_code = (x["recordKind"] == "release") & (x["tagCode"] != "") & (x["tagCode_doubt"] == "")
    return is_code & (x["person_id"] != "") & (x["people_of_tag"] > 1)


RULE = Rule(
    title="The same tag in two people's sheets",
    severity="must-answer",
    scope="season",
    asks="tagger",
    fields=("tagCode",),
    looked_up=("tagCode_doubt", "people_of_tag"),
    each_row=True,
    waivable=False,
    message="Tag {tagCode} in row {row} has also come in from somebody else, but a code belongs to one"
    " butterfly only. Was it already on the butterfly when you met it? Then it is a find, and welcome. If"
    " you put it on, please read it once more from your paper.",
    why="with one code on two people's releases no find can be told to the right one",
    source="common practice: a code is unique to one butterfly",
    examples=Examples(
        finds="""
            tagCode | person_id | people_of_tag | recordKind | found
            SM0042  | anna      | 2             | release    | yes
            SM0043  | anna      | 1             | release    | no
            SM0042  | ben       | 2             | release    | yes
            SM0042  | cleo      | 2             | find       | no
        """,
        leaves="""
            tagCode | person_id | people_of_tag
            SM0042  | anna      | 1
            SM0043  | ben       | 1
        """,
        near_misses="""
            tagCode | person_id | people_of_tag | recordKind | tagCode_doubt
            SM0042  | anna      | 1             | release    |
            SM0042  | ben       | 2             | find       |
            SM0042  |           | 2             | release    |
            none    | anna      | 2             | release    | not-a-code
            ""      | anna      | 2             | release    |
        """,
    ),
)
