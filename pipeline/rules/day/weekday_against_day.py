"""A weekday beside a day that falls on another weekday."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(rows: pd.DataFrame) -> pd.Series:
    day, written = rows["first_day"], rows["weekday_written"]
    is_possible = ~(day < rows["earliest_day"]) & (day <= rows["latest_day"]) & (day == rows["last_day"])
    is_apart: pd.Series = (written != "") & (written != day.dt.day_name())
    return is_possible & is_apart


def suggests(found: pd.DataFrame) -> dict[str, pd.Series]:
    """The day before or after, or day and month exchanged, if only one of them has that weekday."""
    day, one_day = found["first_day"], pd.Timedelta(days=1)
    days = pd.concat([day - one_day, day + one_day, found["other_order"]], axis=1)
    weekdays = days.apply(lambda column: column.dt.day_name())
    fits = weekdays.eq(found["weekday_written"], axis=0)
    fits &= days.ge(found["earliest_day"], axis=0) & days.le(found["latest_day"], axis=0)
    fitting = days.where(fits)
    only = fitting.min(axis=1).where(fitting.min(axis=1) == fitting.max(axis=1))
    return {"eventDate": only.dt.strftime("%Y-%m-%d").fillna("")}


RULE = Rule(
    title="A weekday that is not that of the day",
    severity="must-answer",
    scope="row",
    asks="tagger",
    fields=("eventDate",),
    looked_up=(
        "weekday_written",
        "first_day",
        "last_day",
        "other_order",
        "earliest_day",
        "latest_day",
    ),
    message='Row {row} says "{seen}", but {first_day} is not a {weekday_written}, so either the weekday or'
    " the day slipped. Was it {suggestion}?",
    unsuggested='Row {row} says "{seen}", but {first_day} is not a {weekday_written}, so either the'
    " weekday or the day slipped. Which day was it?",
    why="two statements about the same day disagree, and only one can be published",
    source="ISO 8601, the calendar",
    examples=Examples(
        finds="""
            weekday_written | first_day  | last_day   | other_order | earliest_day | latest_day | suggests eventDate
            Thursday        | 2026-09-04 | 2026-09-04 | 2026-04-09  | 2026-08-01   | 2026-10-20 | 2026-09-03
            Saturday        | 2026-09-04 | 2026-09-04 | 2026-04-09  | 2026-08-01   | 2026-10-20 | 2026-09-05
            Tuesday         | 2026-09-04 | 2026-09-04 | 2026-04-09  | 2026-08-01   | 2026-10-20 |
            Monday          | 2026-10-08 | 2026-10-08 | 2026-08-10  | 2026-08-01   | 2026-10-20 | 2026-08-10
            Thursday        | 2026-10-09 | 2026-10-09 | 2026-09-10  | 2026-08-01   | 2026-10-20 |
            Sunday          | 2026-08-08 | 2026-08-08 | 2026-08-08  | 2026-08-01   | 2026-08-08 |
            Friday          | 2026-08-01 | 2026-08-01 | 2026-01-08  | 2026-08-01   | 2026-10-20 |
            Saturday        | 2026-08-02 | 2026-08-02 | 2026-02-08  | 2026-08-01   | 2026-10-20 | 2026-08-01
            Tuesday         | 2026-10-19 | 2026-10-19 |             | 2026-08-01   | 2026-10-20 | 2026-10-20
            Friday          | 2027-03-11 | 2027-03-11 | 2027-11-03  |              | 2027-03-20 |
        """,
        leaves="""
            weekday_written | first_day  | last_day   | earliest_day | latest_day
            Thursday        | 2026-09-03 | 2026-09-03 | 2026-08-01   | 2026-10-20
                            | 2026-09-03 | 2026-09-03 | 2026-08-01   | 2026-10-20
        """,
        near_misses="""
            weekday_written | first_day  | last_day   | earliest_day | latest_day
            Thursday        | 2025-09-03 | 2025-09-03 | 2026-08-01   | 2026-10-20
            Thursday        | 2026-10-21 | 2026-10-21 | 2026-08-01   | 2026-10-20
            Thursday        | 2026-09-02 | 2026-09-05 | 2026-08-01   | 2026-10-20
            Thursday        |            |            | 2026-08-01   | 2026-10-20
        """,
    ),
)
