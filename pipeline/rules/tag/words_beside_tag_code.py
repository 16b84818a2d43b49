"""A code with other words or signs beside it in its cell."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(x: pd.DataFrame) -> pd.Series:
    has_one_inside = (x["tagCode_doubt"] == "another-shape") & (x["tagCode_candidates"] != "")
    return (x["recordKind"] == "release") & has_one_inside


def suggests(found: pd.DataFrame) -> dict[str, pd.Series]:
    return {"tagCode": found["tagCode_candidates"]}


RULE = Rule(
    title="A tag code with something beside it",
    severity="must-answer",
    scope="row",
    asks="tagger",
    fields=("tagCode",),
    looked_up=("tagCode_doubt", "tagCode_candidates"),
    each_row=True,
    message='In row {row} "{seen}" stands where the code should, and what stands beside the code may mean that it is'
    " another one, or in doubt. Is the code the one that we suggest? What else you wrote there stays with us.",
    why="a note beside a code may say that it was misread, lost or replaced",
    source="mess found in real field sheets: suffixes, stars and words in the code column",
    examples=Examples(
        finds="""
            tagCode       | tagCode_doubt | tagCode_candidates | suggests tagCode
            SM0042 (torn) | another-shape | SM0042             | SM0042
            #SM0042       | another-shape | SM0042             | SM0042
        """,
        leaves="""
            tagCode | tagCode_doubt
            SM0042  |
        """,
        near_misses="""
            tagCode       | tagCode_doubt | tagCode_candidates | recordKind
            SM042         | another-shape |                    | release
            SM0042/SM0043 | several-codes | SM0042 ¦ SM0043    | release
            SM0042 (torn) | another-shape | SM0042             | find
        """,
    ),
)
