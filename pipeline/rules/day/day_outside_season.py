"""A release on a day outside the season, for which no other rule has a reason."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(rows: pd.DataFrame) -> pd.Series:
    first, last = rows["season_first_day"], rows["season_last_day"]
    is_outside = (rows["last_day"] < first) | (rows["first_day"] > last)
    came_later = rows["first_day"] <= rows["received"]
    is_of_another_year = rows["day_in_usual_year"].between(rows["earliest_day"], rows["latest_day"])
    is_asked_elsewhere = is_of_another_year | _is_of_the_spreadsheet(rows)
    return (rows["recordKind"] == "release") & is_outside & came_later & ~is_asked_elsewhere


def _is_of_the_spreadsheet(rows: pd.DataFrame) -> pd.Series:
    """True dates that the spreadsheet crossed, or counted from 1904: asked about as a whole."""
    four_years = pd.Timedelta(days=1462)  # between the two day counts of spreadsheets
    begins_in_season = rows["first_true_day"] + four_years >= rows["season_first_day"]
    ends_in_season = rows["last_true_day"] + four_years <= rows["season_last_day"]
    is_crossed = (rows["highest_true_day"] <= 12) & (rows["lowest_text_day"] > 12)
    is_crossed &= rows["other_order"] != rows["first_day"]
    return (rows["eventDate_kind"] == "d") & ((begins_in_season & ends_in_season) | is_crossed)


def suggests(found: pd.DataFrame) -> dict[str, pd.Series]:
    """Day and month exchanged, or the season's year, if exactly one of them lands in the season."""
    first, last = found["earliest_day"], found["latest_day"]
    day_and_month = found["first_day"].dt.strftime("-%m-%d")
    in_years = [
        pd.to_datetime(found[end].dt.strftime("%Y") + day_and_month, errors="coerce")
        for end in ("season_first_day", "season_last_day")
    ]
    days = pd.concat([found["other_order"], *in_years], axis=1)
    fitting = days.where(days.ge(first, axis=0) & days.le(last, axis=0))
    only = fitting.min(axis=1).where(fitting.min(axis=1) == fitting.max(axis=1))
    is_one_day = found["first_day"] == found["last_day"]
    return {"eventDate": only.dt.strftime("%Y-%m-%d").where(is_one_day).fillna("")}


RULE = Rule(
    title="A day outside the season",
    severity="must-answer",
    scope="sheet",
    asks="tagger",
    fields=("eventDate",),
    looked_up=(
        "first_day",
        "last_day",
        "received",
        "other_order",
        "season_first_day",
        "season_last_day",
        "earliest_day",
        "latest_day",
        "day_in_usual_year",
        "eventDate_kind",
        "first_true_day",
        "last_true_day",
        "highest_true_day",
        "lowest_text_day",
    ),
    message='Row {row} is dated "{seen}", outside our season ({season_first_day} to {season_last_day}),'
    " and the day tells where a butterfly was headed. If it is right we keep it; tell us so. Or was it"
    " {suggestion}?",
    unsuggested='Row {row} is dated "{seen}", outside our season ({season_first_day} to'
    " {season_last_day}), and the day tells where a butterfly was headed. If it is right we keep it; tell"
    " us so. Or which day was it?",
    why="a release outside the season is more often a slip in the date than an early or late butterfly",
    source="the programme's settings",
    examples=Examples(
        finds="""
            first_day  | last_day   | received   | season_first_day | season_last_day | earliest_day | latest_day | other_order | suggests eventDate
            2026-03-09 | 2026-03-09 | 2026-12-20 | 2026-08-01       | 2026-11-10      | 2026-08-01   | 2026-11-10 | 2026-09-03  | 2026-09-03
            2025-09-20 | 2025-09-20 | 2026-12-20 | 2026-08-01       | 2026-11-10      | 2026-08-01   | 2026-11-10 |             | 2026-09-20
            2025-09-10 | 2025-09-10 | 2026-12-20 | 2026-08-01       | 2026-11-10      | 2026-08-01   | 2026-11-10 | 2025-10-09  | 2026-09-10
            2025-08-01 | 2025-08-01 | 2026-12-20 | 2026-08-01       | 2026-11-10      | 2026-08-01   | 2026-11-10 |             | 2026-08-01
            2025-11-10 | 2025-11-10 | 2026-12-20 | 2026-08-01       | 2026-11-10      | 2026-08-01   | 2026-11-10 | 2025-10-11  | 2026-11-10
            2026-07-31 | 2026-07-31 | 2026-12-20 | 2026-08-01       | 2026-11-10      | 2026-08-01   | 2026-11-10 |             |
            2026-11-11 | 2026-11-11 | 2026-12-20 | 2026-08-01       | 2026-11-10      | 2026-08-01   | 2026-11-10 |             |
            2026-12-20 | 2026-12-20 | 2026-12-20 | 2026-08-01       | 2026-11-10      | 2026-08-01   | 2026-11-10 |             |
            2025-11-05 | 2025-11-05 | 2026-10-20 | 2026-08-01       | 2026-11-10      | 2026-08-01   | 2026-10-20 | 2025-05-11  |
            2025-09-01 | 2025-09-30 | 2026-12-20 | 2026-08-01       | 2026-11-10      | 2026-08-01   | 2026-11-10 |             |
            2026-02-15 | 2026-02-15 | 2027-04-20 | 2026-12-01       | 2027-03-31      | 2026-12-01   | 2027-03-31 |             | 2027-02-15
            2026-02-12 | 2026-02-12 | 2027-04-20 | 2026-12-01       | 2027-03-31      | 2026-12-01   | 2027-03-31 | 2026-12-02  |

            first_day  | last_day   | received   | season_first_day | season_last_day | earliest_day | latest_day | eventDate_kind | first_true_day | last_true_day | highest_true_day | lowest_text_day | suggests eventDate
            2022-08-31 | 2022-08-31 | 2026-12-20 | 2026-08-01       | 2026-11-10      | 2026-08-01   | 2026-11-10 | d              | 2022-07-30     | 2022-11-09    | 31               |                 | 2026-08-31
            2022-08-31 | 2022-08-31 | 2026-12-20 | 2026-08-01       | 2026-11-10      | 2026-08-01   | 2026-11-10 | d              | 2022-07-31     | 2022-11-10    | 31               |                 | 2026-08-31
            2022-08-31 | 2022-08-31 | 2026-12-20 | 2026-08-01       | 2026-11-10      | 2026-08-01   | 2026-11-10 | t              | 2022-07-31     | 2022-11-09    | 31               |                 | 2026-08-31
            2026-03-09 | 2026-03-09 | 2026-12-20 | 2026-08-01       | 2026-11-10      | 2026-08-01   | 2026-11-10 | d              | 2026-03-09     | 2026-12-09    | 12               |                 |
            2026-03-09 | 2026-03-09 | 2026-12-20 | 2026-08-01       | 2026-11-10      | 2026-08-01   | 2026-11-10 | d              | 2026-03-09     | 2026-12-09    | 12               | 12              |
            2026-03-09 | 2026-03-09 | 2026-12-20 | 2026-08-01       | 2026-11-10      | 2026-08-01   | 2026-11-10 | d              | 2026-03-09     | 2026-12-09    | 13               | 13              |
            2026-03-09 | 2026-03-09 | 2026-12-20 | 2026-08-01       | 2026-11-10      | 2026-08-01   | 2026-11-10 | t              | 2026-03-09     | 2026-12-09    | 12               | 13              |

            eventDate_kind | first_day  | last_day   | other_order | received   | season_first_day | season_last_day | earliest_day | latest_day | highest_true_day | lowest_text_day
            d              | 2026-05-05 | 2026-05-05 | 2026-05-05  | 2026-12-20 | 2026-08-01       | 2026-11-10      | 2026-08-01   | 2026-11-10 | 12               | 13
        """,  # noqa: E501
        leaves="""
            first_day  | last_day   | received   | season_first_day | season_last_day | earliest_day | latest_day
            2026-09-03 | 2026-09-03 | 2026-12-20 | 2026-08-01       | 2026-11-10      | 2026-08-01   | 2026-11-10
                       |            | 2026-12-20 | 2026-08-01       | 2026-11-10      | 2026-08-01   | 2026-11-10
            2027-01-05 | 2027-01-05 | 2027-04-20 | 2026-12-01       | 2027-03-31      | 2026-12-01   | 2027-03-31
        """,
        near_misses="""
            first_day  | last_day   | received   | season_first_day | season_last_day | earliest_day | latest_day | recordKind
            2026-08-01 | 2026-08-01 | 2026-12-20 | 2026-08-01       | 2026-11-10      | 2026-08-01   | 2026-11-10 | release
            2026-11-10 | 2026-11-10 | 2026-12-20 | 2026-08-01       | 2026-11-10      | 2026-08-01   | 2026-11-10 | release
            2026-07-30 | 2026-08-01 | 2026-12-20 | 2026-08-01       | 2026-11-10      | 2026-08-01   | 2026-11-10 | release
            2026-12-21 | 2026-12-21 | 2026-12-20 | 2026-08-01       | 2026-11-10      | 2026-08-01   | 2026-11-10 | release
            2027-02-03 | 2027-02-03 | 2027-04-20 | 2026-08-01       | 2026-11-10      | 2026-08-01   | 2026-11-10 | find

            first_day  | last_day   | received   | season_first_day | season_last_day | earliest_day | latest_day | day_in_usual_year
            2025-08-01 | 2025-08-01 | 2026-12-20 | 2026-08-01       | 2026-11-10      | 2026-08-01   | 2026-11-10 | 2026-08-01
            2025-11-10 | 2025-11-10 | 2026-12-20 | 2026-08-01       | 2026-11-10      | 2026-08-01   | 2026-11-10 | 2026-11-10

            first_day  | last_day   | received   | season_first_day | season_last_day | earliest_day | latest_day | eventDate_kind | first_true_day | last_true_day | highest_true_day | lowest_text_day
            2022-08-31 | 2022-08-31 | 2026-12-20 | 2026-08-01       | 2026-11-10      | 2026-08-01   | 2026-11-10 | d              | 2022-07-31     | 2022-11-09    | 31               | 
            2026-03-09 | 2026-03-09 | 2026-12-20 | 2026-08-01       | 2026-11-10      | 2026-08-01   | 2026-11-10 | d              | 2026-03-09     | 2026-12-09    | 12               | 13
        """,  # noqa: E501
    ),
)
