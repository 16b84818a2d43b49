"""A row without a day."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(rows: pd.DataFrame) -> pd.Series:
    return (rows["eventDate"] == "") & ~rows["day_column_is_missing"]


RULE = Rule(
    title="A row without a day",
    severity="must-answer",
    scope="row",
    asks="tagger",
    fields=("eventDate",),
    looked_up=("day_column_is_missing",),
    message="Row {row} has no day, and without one we cannot say how long the butterfly was on its way. If"
    " you remember only the week or the month, write that: a rough day is better than none.",
    why="a record without a day cannot be placed in the season or held against a find",
    source="common practice",
    examples=Examples(
        finds="""
            eventDate | recordKind
                      | release
                      | find
        """,
        leaves="""
            eventDate
            2026-09-03
            2026-09
        """,
        near_misses="""
            eventDate  | day_column_is_missing | eventDate_doubt
                       | yes                   |
            early fall | no                    | not-a-day
        """,
    ),
)
