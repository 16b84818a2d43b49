"""A day that the spreadsheet shows as the number it keeps for it."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(rows: pd.DataFrame) -> pd.Series:
    return rows["eventDate_doubt"] == "number-of-a-day"


def suggests(found: pd.DataFrame) -> dict[str, pd.Series]:
    """The day that alone is possible, counted from 1900 or from 1904: in season, or for a find after its release."""
    days = found[["day_one", "day_two"]]
    fitting = days.where(days.ge(found["earliest_day"], axis=0) & days.le(found["latest_day"], axis=0))
    first, last = fitting.min(axis=1), fitting.max(axis=1)
    return {"eventDate": first.where(first == last).dt.strftime("%Y-%m-%d").fillna("")}


RULE = Rule(
    title="A day shown as a number",
    severity="must-answer",
    scope="row",
    asks="tagger",
    fields=("eventDate",),
    looked_up=("eventDate_doubt", "day_one", "day_two", "earliest_day", "latest_day"),
    message='Row {row} has the number "{seen}" where the day should be. Spreadsheets keep a day as such a number, some'
    " counted from 1900 and some from 1904, so we would rather ask. Is it {suggestion}?",
    unsuggested='Row {row} has the number "{seen}" where the day should be. Spreadsheets keep a day as such a number,'
    " some counted from 1900 and some from 1904, and we cannot tell which day it stands for. Which day was it?",
    why="the same number is another day, four years apart, on another computer",
    source="common practice: days are counted from 1900 or from 1904, 1,462 days apart",
    examples=Examples(
        finds="""
            eventDate | eventDate_doubt | day_one    | day_two    | earliest_day | latest_day | suggests eventDate
            46268     | number-of-a-day | 2026-09-03 | 2030-09-04 | 2026-08-01   | 2026-11-10 | 2026-09-03
            44806     | number-of-a-day | 2022-09-02 | 2026-09-03 | 2026-08-01   | 2026-11-10 | 2026-09-03
            44724     | number-of-a-day | 2022-06-12 | 2026-06-13 | 2026-08-01   | 2026-11-10 |
            47848     | number-of-a-day | 2030-12-31 |            | 2026-08-01   | 2026-11-10 |
            46268     | number-of-a-day | 2026-09-03 | 2030-09-04 | 2026-08-20   | 2031-11-10 |
            46268     | number-of-a-day | 2026-09-03 | 2030-09-04 |              | 2026-11-10 |
        """,
        leaves="""
            eventDate  | eventDate_doubt
            2026-09-03 |
        """,
        near_misses="""
            eventDate | eventDate_doubt
            12345     | not-a-day
            3/9/2026  | two-readings
        """,
    ),
)
