"""A row by a child, or in which a child is named."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(x: pd.DataFrame) -> pd.Series:
    return x["recorded_by_is_minor"]


RULE = Rule(
    title="A child is named",
    severity="for-information",
    scope="row",
    asks="tagger",
    fields=("recordedBy",),
    looked_up=("recorded_by_is_minor",),
    message="Row {row} is by a child or names one. Children's names are never published, and the place is"
    " shown only as a rough area. There is nothing to do.",
    why="children are protected without anybody having to ask",
    source="common practice; the programme's settings",
    examples=Examples(
        finds="""
            recordedBy | recorded_by_is_minor
            Lou Muise  | yes
            ""         | yes
        """,
        leaves="""
            recordedBy | recorded_by_is_minor
            Anna Muise | no
        """,
        near_misses="""
            recordedBy | recorded_by_is_minor
            Lou        | no
            ""         | no
        """,
    ),
)
