"""A release with a tag that was reported lost or spoiled."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(x: pd.DataFrame) -> pd.Series:
    is_gone = x["tag_status"].isin(["lost", "spoiled"])
    return (x["recordKind"] == "release") & (x["tagCode"] != "") & is_gone


RULE = Rule(
    title="A tag that was reported lost or spoiled",
    severity="please-check",
    scope="row",
    asks="tagger",
    fields=("tagCode",),
    looked_up=("tag_status",),
    message="Tag {tagCode} in row {row} is on our list as {tag_status}, yet here it flies. Has it turned up"
    " and been used, or is the code a slip?",
    why="a tag counts once: as released, or as lost or spoiled",
    source="the programme's list of tags",
    examples=Examples(
        finds="""
            tagCode | tag_status
            SM0042  | lost
            SM0043  | spoiled
        """,
        leaves="""
            tagCode | tag_status
            SM0042  | allotted
        """,
        near_misses="""
            tagCode | tag_status | recordKind
            SM0042  | returned   | release
            SM0042  | kept       | release
            SM0042  | lost       | find
            ""      | lost       | release
        """,
    ),
)
