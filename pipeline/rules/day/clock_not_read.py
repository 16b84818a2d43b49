"""A time of day that we could not read for sure."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(rows: pd.DataFrame) -> pd.Series:
    is_unread = rows["eventTime_doubt"].isin(["not-a-time", "two-readings"])
    return is_unread & (rows["eventTime_kind"] != "e")


RULE = Rule(
    title="A time that we could not read",
    severity="please-check",
    scope="row",
    asks="tagger",
    fields=("eventTime",),
    looked_up=("eventTime_doubt", "eventTime_kind"),
    withholds=("eventTime",),
    message='We could not read the time "{seen}" in row {row} for sure, and until we can it stays out of'
    " the published record. Please write it like 14:30, or leave it empty if you did not note it.",
    why="a time that can be read in two ways is worse than none",
    source="common practice",
    examples=Examples(
        finds="""
            eventTime | eventTime_doubt | eventTime_kind
            noonish   | not-a-time      | t
            25:70     | not-a-time      | t
            7         | two-readings    | n
        """,
        leaves="""
            eventTime
            14:30

        """,
        near_misses="""
            eventTime | eventTime_doubt | eventTime_kind
            #VALUE!   | not-a-time      | e
            02:30     |                 | t
        """,
    ),
)
