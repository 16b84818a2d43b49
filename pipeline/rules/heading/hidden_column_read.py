"""A column that was hidden in its sheet."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(x: pd.DataFrame) -> pd.Series:
    return x["is_hidden"] & (x["field"] != "") & (x["field"] != "kept")


RULE = Rule(
    title="A hidden column that we read",
    severity="for-information",
    scope="heading",
    asks="tagger",
    fields=("heading",),
    looked_up=("is_hidden", "field"),
    message='The column "{heading}" is hidden in your sheet. We read it like the others. If it should not count, please'
    " tell us.",
    why="what its sender cannot see may be out of date",
    source="common practice",
    examples=Examples(
        finds="""
            heading | field    | is_hidden
            Sex     | sex      | yes
        """,
        leaves="""
            heading | field    | is_hidden
            Sex     | sex      | no
        """,
        near_misses="""
            heading | field    | is_hidden
            Wind    | kept     | yes
            Xyz     |          | yes
        """,
    ),
)
