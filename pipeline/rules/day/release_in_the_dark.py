"""A release at a time of day at which it is dark."""

import pandas as pd

from pipeline.rule import Examples, Rule

MORNING, EVENING = 5 * 60, 21 * 60 + 30  # minutes after midnight
HALF_DAY = 12 * 60


def finds(rows: pd.DataFrame) -> pd.Series:
    is_dark = (rows["minutes_of_day"] < MORNING) | (rows["minutes_of_day"] > EVENING)
    return (rows["recordKind"] == "release") & is_dark


def suggests(found: pd.DataFrame) -> dict[str, pd.Series]:
    """The same time half a day away; none for midnight, which often stands for no time at all."""
    minutes = found["minutes_of_day"]
    hours = (minutes + HALF_DAY).mod(24 * 60).floordiv(60).astype("int64").astype("str").str.zfill(2)
    is_plain = (minutes > 0) & ~found["eventTime"].str.contains("/", regex=False)
    return {"eventTime": (hours + found["eventTime"].str.slice(2)).where(is_plain, "")}


RULE = Rule(
    title="A release in the dark",
    severity="please-check",
    scope="row",
    asks="tagger",
    fields=("eventTime",),
    looked_up=("minutes_of_day",),
    message='Row {row} says the butterfly was let go at "{seen}", and before 05:00 or after 21:30 it is'
    " dark. Was it {suggestion}? A night roost, or a reared one let go late, is fine: tell us so.",
    unsuggested='Row {row} says the butterfly was let go at "{seen}", and before 05:00 or after 21:30 it'
    " is dark. At what time was it? A night roost, or a reared one let go late, is fine: tell us so.",
    why="morning and evening are easily crossed on a twelve-hour clock, and butterflies fly by day",
    source="common practice; 05:00 and 21:30 are our proposal",
    examples=Examples(
        finds="""
            eventTime   | minutes_of_day | suggests eventTime
            02:30       | 150            | 14:30
            04:59       | 299            | 16:59
            21:31       | 1291           | 09:31
            23:05:10    | 1385           | 11:05:10
            00:30       | 30             | 12:30
            00:00       | 0              |
            02:30/03:30 | 150            |
        """,
        leaves="""
            eventTime | minutes_of_day
            14:30     | 870
                      |
            noonish   |
        """,
        near_misses="""
            eventTime | minutes_of_day | recordKind
            05:00     | 300            | release
            21:30     | 1290           | release
            02:30     | 150            | find
        """,
    ),
)
