"""A time of day that we could not read for sure."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(rows: pd.DataFrame) -> pd.Series:
    is_unread = rows["eventTime_doubt"].isin(["not-a-time", "two-readings", "unsure"])
    return is_unread & (rows["eventTime_kind"] != "e")


def suggests(found: pd.DataFrame) -> dict[str, pd.Series]:
    """The time that was doubted, if it is one time."""
    return {"eventTime": found["eventTime_candidates"].where(found["eventTime_doubt"] == "unsure", "")}


RULE = Rule(
    title="A time that we could not read",
    severity="please-check",
    scope="row",
    asks="tagger",
    fields=("eventTime",),
    looked_up=("eventTime_doubt", "eventTime_kind", "eventTime_candidates"),
    withholds=("eventTime",),
    message='The time in row {row} is "{seen}", which does not sound sure, so it stays out of the published record for'
    " now. Shall we write {suggestion}? If nobody noted the time, an empty cell is fine.",
    unsuggested='We could not read the time "{seen}" in row {row} for sure, and until we can it stays out of'
    " the published record. Please write it like 14:30, or leave it empty if you did not note it.",
    why="a time that can be read in two ways is worse than none",
    source="common practice",
    examples=Examples(
        finds="""
            eventTime | eventTime_doubt | eventTime_kind
            noonish   | not-a-time      | t
            25:70     | not-a-time      | t
            7         | two-readings    | n

            eventTime | eventTime_doubt | eventTime_candidates | suggests eventTime
            vers 14h  | unsure          | 14:00                | 14:00
            14.3      | two-readings    | 14:30 ¦ 14:18        |
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
