"""A find of one of our tags whose release has not come in."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(x: pd.DataFrame) -> pd.Series:
    is_find = (x["recordKind"] == "find") & (x["tagCode"] != "") & x["tag_shape_fits"]
    may_be_ours = (x["tag_season"] != "") | ~x["is_allotment_known"]
    return is_find & may_be_ours & ~x["has_release"]


RULE = Rule(
    title="A find without its release",
    severity="for-information",
    scope="season",
    asks="coordinator",
    fields=("tagCode",),
    looked_up=("tag_shape_fits", "tag_season", "is_allotment_known", "has_release"),
    message="Tag {tagCode} was found, but its release has not come in, so the find waits. A kind word to the"
    " person to whom the tag was handed may bring the sheet.",
    why="a find without its release has no beginning",
    source="common practice",
    examples=Examples(
        finds="""
            tagCode | recordKind | has_release | tag_season | is_allotment_known
            SM0042  | find       | no          | 2026       | yes
            SM0042  | find       | no          |            | no
        """,
        leaves="""
            tagCode | recordKind | has_release
            SM0042  | find       | yes
        """,
        near_misses="""
            tagCode | recordKind | has_release | tag_season | tag_shape_fits
            SM0042  | release    | no          | 2026       | yes
            SM9999  | find       | no          |            | yes
            SM004   | find       | no          | 2026       | no
            ""      | find       | no          | 2026       | yes
        """,
    ),
)
