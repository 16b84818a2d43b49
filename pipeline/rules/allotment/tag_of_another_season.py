"""A release with a tag that was allotted for another season."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(x: pd.DataFrame) -> pd.Series:
    is_own = (x["tag_person_id"] == x["person_id"]) | x["is_group_tag"]
    is_left_over = (x["tag_season"] != "") & (x["tag_season"] != x["season"])
    return (x["recordKind"] == "release") & (x["tagCode"] != "") & is_own & is_left_over


RULE = Rule(
    title="A tag of another season",
    severity="please-check",
    scope="row",
    asks="tagger",
    fields=("tagCode",),
    looked_up=("tag_person_id", "is_group_tag", "tag_season", "season"),
    message="Tag {tagCode} in row {row} belongs to the {tag_season} season, and this is {season}. Old tags"
    " are fine if you tell us, because we count tags by season. Did you use a left-over?",
    why="tags are counted by the season for which they were handed out",
    source="the programme's list of tags",
    examples=Examples(
        finds="""
            tagCode | tag_season | season | tag_person_id | is_group_tag
            SM0042  | 2025       | 2026   | anna          | no
            SM0142  | 2025       | 2026   | ben           | yes
        """,
        leaves="""
            tagCode | tag_season | season
            SM0042  | 2026       | 2026
        """,
        near_misses="""
            tagCode | tag_season | tag_person_id | is_group_tag | recordKind
            SM0042  |            | anna          | no           | release
            SM0042  | 2025       | ben           | no           | release
            SM0042  | 2025       | anna          | no           | find
            ""      | 2025       | anna          | no           | release
        """,
    ),
)
