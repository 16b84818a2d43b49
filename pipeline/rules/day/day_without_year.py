"""A day and a month without a year."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(rows: pd.DataFrame) -> pd.Series:
    return rows["eventDate_doubt"] == "no-year"


def suggests(found: pd.DataFrame) -> dict[str, pd.Series]:
    """The day in the only year that makes it possible: in season, or for a find after its release."""
    day = found["day_one"]
    later = day + pd.DateOffset(years=1)
    days = pd.concat([day, later.where(later.dt.day == day.dt.day)], axis=1)
    fits = days.ge(found["earliest_day"], axis=0) & days.le(found["latest_day"], axis=0)
    fitting = days.where(fits)
    only = fitting.min(axis=1).where(fitting.min(axis=1) == fitting.max(axis=1))
    is_one_day = found["eventDate_candidates"].str.len() == len("2026-09-03")
    return {"eventDate": only.dt.strftime("%Y-%m-%d").where(is_one_day).fillna("")}


RULE = Rule(
    title="A day without a year",
    severity="must-answer",
    scope="row",
    asks="tagger",
    fields=("eventDate",),
    looked_up=(
        "eventDate_doubt",
        "eventDate_candidates",
        "day_one",
        "earliest_day",
        "latest_day",
    ),
    message='"{seen}" in row {row} has no year, and tags are found for years to come. Was it {suggestion}?',
    unsuggested='"{seen}" in row {row} has no year, and tags are found for years to come. Which year was it?',
    why="sheets of an earlier season are sent late, so the year is not ours to guess",
    source="common practice",
    examples=Examples(
        finds="""
            eventDate | eventDate_doubt | eventDate_candidates  | day_one    | earliest_day | latest_day | suggests eventDate
            3 sept    | no-year         | 2026-09-03            | 2026-09-03 | 2026-08-01   | 2026-11-10 | 2026-09-03
            1 août    | no-year         | 2026-08-01            | 2026-08-01 | 2026-08-01   | 2026-11-10 | 2026-08-01
            10 nov    | no-year         | 2026-11-10            | 2026-11-10 | 2026-08-01   | 2026-11-10 | 2026-11-10
            3 may     | no-year         | 2026-05-03            | 2026-05-03 | 2026-08-01   | 2026-11-10 |
            11 nov    | no-year         | 2026-11-11            | 2026-11-11 | 2026-08-01   | 2026-11-10 |
            3-5 sept  | no-year         | 2026-09-03/2026-09-05 | 2026-09-03 | 2026-08-01   | 2026-11-10 |
            15 feb    | no-year         | 2026-02-15            | 2026-02-15 | 2026-12-01   | 2027-03-31 | 2027-02-15
            12 oct    | no-year         | 2026-10-12            | 2026-10-12 | 2026-09-03   | 2027-12-20 |
            29 feb    | no-year         | 2028-02-29            | 2028-02-29 | 2028-12-01   | 2029-03-31 |
            12 mars   | no-year         | 2026-03-12            | 2026-03-12 |              | 2027-03-31 |
        """,  # noqa: E501
        leaves="""
            eventDate
            2026-09-03

        """,
        near_misses="""
            eventDate | eventDate_doubt
            3/9/2026  | two-readings
            2026-09   |
        """,
    ),
)
