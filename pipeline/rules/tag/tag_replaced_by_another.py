"""A cell that says that one tag fell off and another took its place."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(x: pd.DataFrame) -> pd.Series:
    return (x["recordKind"] == "release") & (x["tagCode_doubt"] == "re-tagged")


def suggests(found: pd.DataFrame) -> dict[str, pd.Series]:
    return {"tagCode": found["tagCode_candidates"].where(found["tagCode_candidates"] != "", found["prefixed_tag"])}


RULE = Rule(
    title="A tag replaced by another",
    severity="must-answer",
    scope="row",
    asks="tagger",
    fields=("tagCode",),
    looked_up=("tagCode_doubt", "tagCode_candidates", "prefixed_tag"),
    each_row=True,
    message='Row {row} says "{seen}". Whoever finds the butterfly will read the tag that it carries now. Is that'
    " {suggestion}? Please tell us on the page with your tags that the other one was lost.",
    unsuggested='Row {row} says "{seen}". Whoever finds the butterfly will read the tag that it carries now. What is'
    " the whole code of that tag? Please tell us on the page with your tags that the other one was lost.",
    why="a find is matched by the code on the wing, not by the one that fell off",
    source="common practice",
    examples=Examples(
        finds="""
            tagCode                     | tagCode_doubt | tagCode_candidates | prefixed_tag | suggests tagCode
            SM0042 fell off, now SM0043 | re-tagged     | SM0043             |              | SM0043
            0042 fell off, now 0043     | re-tagged     |                    | SM0043       | SM0043
            0042 fell off, now 0043     | re-tagged     |                    |              |
        """,
        leaves="""
            tagCode | tagCode_doubt
            SM0043  |
        """,
        near_misses="""
            tagCode                     | tagCode_doubt | tagCode_candidates | recordKind
            SM0042 + SM0043             | several-codes | SM0042 ¦ SM0043    | release
            SM0042 fell off, now SM0043 | re-tagged     | SM0043             | find
        """,
    ),
)
