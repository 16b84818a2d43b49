"""A day that no calendar has."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(rows: pd.DataFrame) -> pd.Series:
    return rows["eventDate_doubt"] == "not-in-calendar"


RULE = Rule(
    title="A day that is not in the calendar",
    severity="must-answer",
    scope="row",
    asks="tagger",
    fields=("eventDate",),
    looked_up=("eventDate_doubt",),
    message='"{seen}" in row {row} is not a day in the calendar, so we cannot tell which day was meant.'
    " What was the day? A month alone is welcome too.",
    why="the days on either side are both possible, and so is another month",
    source="ISO 8601, the calendar",
    waivable=False,
    examples=Examples(
        finds="""
            eventDate  | eventDate_doubt
            31/9/2026  | not-in-calendar
            2026-02-29 | not-in-calendar
        """,
        leaves="""
            eventDate
            2026-09-30
            2028-02-29
        """,
        near_misses="""
            eventDate  | eventDate_doubt
            9/10/2026  | two-readings
            early fall | not-a-day
        """,
    ),
)
