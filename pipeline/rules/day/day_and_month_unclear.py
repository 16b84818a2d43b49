"""A day that can be read day first or month first."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(rows: pd.DataFrame) -> pd.Series:
    return rows["eventDate_doubt"] == "two-readings"


def suggests(found: pd.DataFrame) -> dict[str, pd.Series]:
    """The reading that alone is possible: in season, or for a find not before its release."""
    first, last = found["earliest_day"], found["latest_day"]
    one, two = found["day_one"].between(first, last), found["day_two"].between(first, last)
    readings = found["eventDate_candidates"]
    day_first = readings.str.replace(r" \|.*", "", regex=True)
    month_first = readings.str.replace(r".*\| ", "", regex=True)
    return {"eventDate": day_first.where(one & ~two, month_first.where(two & ~one, ""))}


RULE = Rule(
    title="A day that can be read in two ways",
    severity="must-answer",
    scope="row",
    asks="tagger",
    fields=("eventDate",),
    looked_up=(
        "eventDate_doubt",
        "eventDate_candidates",
        "day_one",
        "day_two",
        "earliest_day",
        "latest_day",
    ),
    message='"{seen}" in row {row} can be {day_one} or {day_two}, and no other date of the column tells us'
    " whether you write the day or the month first. Only {suggestion} seems possible. Is it that one?",
    unsuggested='"{seen}" in row {row} can be {day_one} or {day_two}, and no other date of the column'
    " tells us whether you write the day or the month first. Which one is it?",
    why="day and month exchanged put a record months away from its day",
    source="common practice; a column settles its own order wherever one of its dates has a number over 12",
    examples=Examples(
        finds="""
            eventDate | eventDate_doubt | eventDate_candidates    | day_one    | day_two    | earliest_day | latest_day | suggests eventDate
            3/9/2026  | two-readings    | 2026-09-03 ¦ 2026-03-09 | 2026-09-03 | 2026-03-09 | 2026-08-01   | 2026-11-10 | 2026-09-03
            9/3/2026  | two-readings    | 2026-03-09 ¦ 2026-09-03 | 2026-03-09 | 2026-09-03 | 2026-08-01   | 2026-11-10 | 2026-09-03
            1/8/2026  | two-readings    | 2026-08-01 ¦ 2026-01-08 | 2026-08-01 | 2026-01-08 | 2026-08-01   | 2026-11-10 | 2026-08-01
            8/1/2026  | two-readings    | 2026-01-08 ¦ 2026-08-01 | 2026-01-08 | 2026-08-01 | 2026-08-01   | 2026-08-01 | 2026-08-01
            8/9/2026  | two-readings    | 2026-09-08 ¦ 2026-08-09 | 2026-09-08 | 2026-08-09 | 2026-08-01   | 2026-11-10 |
            3/4/2026  | two-readings    | 2026-04-03 ¦ 2026-03-04 | 2026-04-03 | 2026-03-04 | 2026-08-01   | 2026-11-10 |
            3/9/2026  | two-readings    | 2026-09-03 ¦ 2026-03-09 | 2026-09-03 | 2026-03-09 |              | 2026-09-20 |
        """,  # noqa: E501
        leaves="""
            eventDate
            2026-09-03

        """,
        near_misses="""
            eventDate  | eventDate_doubt
            31/9/2026  | not-in-calendar
            3 sept     | no-year
        """,
    ),
)
