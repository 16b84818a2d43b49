"""A day later than the day on which the sheet reached us."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(rows: pd.DataFrame) -> pd.Series:
    is_true_date = rows["eventDate_kind"] == "d"
    is_crossed = is_true_date & (rows["highest_true_day"] <= 12) & (rows["lowest_text_day"] > 12)
    is_crossed &= rows["other_order"] != rows["first_day"]
    return (rows["first_day"] > rows["received"]) & ~is_crossed


def suggests(found: pd.DataFrame) -> dict[str, pd.Series]:
    """The day with day and month exchanged, or a year earlier, if only one of them is possible."""
    day = found["first_day"]
    earlier = day - pd.DateOffset(years=1)
    days = pd.concat([found["other_order"], earlier.where(earlier.dt.day == day.dt.day)], axis=1)
    fits = days.ge(found["earliest_day"], axis=0) & days.le(found["latest_day"], axis=0)
    fitting = days.where(fits)
    only = fitting.min(axis=1).where(fitting.min(axis=1) == fitting.max(axis=1))
    is_one_day = day == found["last_day"]
    return {"eventDate": only.dt.strftime("%Y-%m-%d").where(is_one_day).fillna("")}


RULE = Rule(
    title="A day after the sheet came",
    severity="must-answer",
    scope="row",
    asks="tagger",
    fields=("eventDate",),
    looked_up=(
        "first_day",
        "last_day",
        "received",
        "other_order",
        "eventDate_kind",
        "highest_true_day",
        "lowest_text_day",
        "earliest_day",
        "latest_day",
    ),
    message='Row {row} says "{seen}" ({first_day}), which is after {received}, the day on which your sheet'
    " reached us, so day, month or year must be another. Was it {suggestion}?",
    unsuggested='Row {row} says "{seen}" ({first_day}), which is after {received}, the day on which your'
    " sheet reached us, so day, month or year must be another. Which day was it?",
    why="nothing can be written down before it happens",
    source="common practice",
    waivable=False,
    examples=Examples(
        finds="""
            eventDate  | first_day  | last_day   | received   | other_order | earliest_day | latest_day | suggests eventDate
            2027-09-03 | 2027-09-03 | 2027-09-03 | 2026-10-20 | 2027-03-09  | 2026-08-01   | 2026-10-20 | 2026-09-03
            2027-08-01 | 2027-08-01 | 2027-08-01 | 2026-10-20 | 2027-01-08  | 2026-08-01   | 2026-10-20 | 2026-08-01
            2027-10-20 | 2027-10-20 | 2027-10-20 | 2026-10-20 |             | 2026-08-01   | 2026-10-20 | 2026-10-20
            2026-12-09 | 2026-12-09 | 2026-12-09 | 2026-10-20 | 2026-09-12  | 2026-08-01   | 2026-10-20 | 2026-09-12
            2026-10-21 | 2026-10-21 | 2026-10-21 | 2026-10-20 |             | 2026-08-01   | 2026-10-20 |
            2027-11-09 | 2027-11-09 | 2027-11-09 | 2026-10-20 | 2027-09-11  | 2026-08-01   | 2026-10-20 |
            2027-09    | 2027-09-01 | 2027-09-30 | 2026-10-20 |             | 2026-08-01   | 2026-10-20 |
            2027-12-03 | 2027-12-03 | 2027-12-03 | 2027-04-20 | 2027-03-12  | 2026-09-03   | 2027-04-20 |
            2027-12-03 | 2027-12-03 | 2027-12-03 | 2027-04-20 | 2027-03-12  | 2026-12-04   | 2027-04-20 | 2027-03-12
            2028-02-29 | 2028-02-29 | 2028-02-29 | 2027-04-20 |             | 2026-09-03   | 2027-04-20 |
            2027-12-03 | 2027-12-03 | 2027-12-03 | 2027-04-20 | 2027-03-12  |              | 2027-04-20 |

            eventDate  | eventDate_kind | first_day  | last_day   | received   | other_order | highest_true_day | lowest_text_day
            2026-12-12 | d              | 2026-12-12 | 2026-12-12 | 2026-10-20 | 2026-12-12  | 12               | 13

            eventDate  | eventDate_kind | first_day  | last_day   | received   | highest_true_day | lowest_text_day
            2026-12-09 | d              | 2026-12-09 | 2026-12-09 | 2026-10-20 | 12               |
            2026-12-09 | d              | 2026-12-09 | 2026-12-09 | 2026-10-20 | 12               | 12
            2026-12-09 | d              | 2026-12-09 | 2026-12-09 | 2026-10-20 | 13               | 13
            2026-12-09 | t              | 2026-12-09 | 2026-12-09 | 2026-10-20 | 12               | 13
        """,  # noqa: E501
        leaves="""
            eventDate  | first_day  | last_day   | received
            2026-09-03 | 2026-09-03 | 2026-09-03 | 2026-10-20
            early fall |            |            | 2026-10-20
        """,
        near_misses="""
            eventDate             | eventDate_kind | first_day  | last_day   | received   | highest_true_day | lowest_text_day
            2026-10-20            | t              | 2026-10-20 | 2026-10-20 | 2026-10-20 |                  |
            2026-10               | t              | 2026-10-01 | 2026-10-31 | 2026-10-20 |                  |
            2026-10-19/2026-10-22 | t              | 2026-10-19 | 2026-10-22 | 2026-10-20 |                  |
            2026-12-09            | d              | 2026-12-09 | 2026-12-09 | 2026-10-20 | 12               | 13
        """,  # noqa: E501
    ),
)
