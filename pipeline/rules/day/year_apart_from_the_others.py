"""A release whose year is not that of the other rows, and which their year would bring into the season."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(rows: pd.DataFrame) -> pd.Series:
    first, last = rows["season_first_day"], rows["season_last_day"]
    is_outside = (rows["last_day"] < first) | (rows["first_day"] > last)
    came_later = rows["first_day"] <= rows["received"]
    moves_inside = rows["day_in_usual_year"].between(rows["earliest_day"], rows["latest_day"])
    is_here = is_outside & came_later & moves_inside & ~_is_counted_from_1904(rows)
    return (rows["recordKind"] == "release") & is_here


def _is_counted_from_1904(rows: pd.DataFrame) -> pd.Series:
    """True dates that all lie four years and a day early: asked about as a whole."""
    four_years = pd.Timedelta(days=1462)  # between the two day counts of spreadsheets
    begins_in_season = rows["first_true_day"] + four_years >= rows["season_first_day"]
    ends_in_season = rows["last_true_day"] + four_years <= rows["season_last_day"]
    return (rows["eventDate_kind"] == "d") & begins_in_season & ends_in_season


def suggests(found: pd.DataFrame) -> dict[str, pd.Series]:
    moved = found["day_in_usual_year"].dt.strftime("%Y-%m-%d")
    is_one_day = found["first_day"] == found["last_day"]
    return {"eventDate": moved.where(is_one_day, "")}


RULE = Rule(
    title="A year apart from the others",
    severity="must-answer",
    scope="sheet",
    asks="tagger",
    fields=("eventDate",),
    looked_up=(
        "first_day",
        "last_day",
        "received",
        "season_first_day",
        "season_last_day",
        "earliest_day",
        "latest_day",
        "eventDate_kind",
        "first_true_day",
        "last_true_day",
        "usual_year",
        "day_in_usual_year",
    ),
    message='Row {row} says "{seen}", while most of your rows are of {usual_year}, and a wrong year would'
    " send a find of this tag to another season. Was it {suggestion}?",
    unsuggested='Row {row} says "{seen}", while most of your rows are of {usual_year}, and a wrong year'
    " would send a find of this tag to another season. Which year was it?",
    why="a year typed by habit, often in January, is the most common slip in a date",
    source="common practice; four rows and more than half of the sheet are our proposal",
    examples=Examples(
        finds="""
            first_day  | last_day   | received   | season_first_day | season_last_day | earliest_day | latest_day | day_in_usual_year | suggests eventDate | found
            2025-09-03 | 2025-09-03 | 2026-10-20 | 2026-08-01       | 2026-11-10      | 2026-08-01   | 2026-10-20 | 2026-09-03        | 2026-09-03         | yes
            2006-08-01 | 2006-08-01 | 2026-10-20 | 2026-08-01       | 2026-11-10      | 2026-08-01   | 2026-10-20 | 2026-08-01        | 2026-08-01         | yes
            2025-10-20 | 2025-10-20 | 2026-10-20 | 2026-08-01       | 2026-11-10      | 2026-08-01   | 2026-10-20 | 2026-10-20        | 2026-10-20         | yes
            2025-09-01 | 2025-09-30 | 2026-10-20 | 2026-08-01       | 2026-11-10      | 2026-08-01   | 2026-10-20 | 2026-09-01        |                    | yes
            2027-09-03 | 2027-09-03 | 2027-09-03 | 2026-08-01       | 2026-11-10      | 2026-08-01   | 2026-11-10 | 2026-09-03        | 2026-09-03         | yes
            2026-09-03 | 2026-09-03 | 2026-10-20 | 2026-08-01       | 2026-11-10      | 2026-08-01   | 2026-10-20 | 2026-09-03        |                    | no

            first_day  | last_day   | received   | season_first_day | season_last_day | earliest_day | latest_day | day_in_usual_year | eventDate_kind | first_true_day | last_true_day | suggests eventDate
            2022-08-31 | 2022-08-31 | 2026-12-20 | 2026-08-01       | 2026-11-10      | 2026-08-01   | 2026-11-10 | 2026-08-31        | t              | 2022-07-31     | 2022-11-09    | 2026-08-31
            2022-08-31 | 2022-08-31 | 2026-12-20 | 2026-08-01       | 2026-11-10      | 2026-08-01   | 2026-11-10 | 2026-08-31        | d              | 2022-07-30     | 2022-11-09    | 2026-08-31
            2022-08-31 | 2022-08-31 | 2026-12-20 | 2026-08-01       | 2026-11-10      | 2026-08-01   | 2026-11-10 | 2026-08-31        | d              | 2022-07-31     | 2022-11-10    | 2026-08-31
        """,  # noqa: E501
        leaves="""
            first_day  | last_day   | received   | season_first_day | season_last_day | earliest_day | latest_day | day_in_usual_year
            2026-09-03 | 2026-09-03 | 2026-10-20 | 2026-08-01       | 2026-11-10      | 2026-08-01   | 2026-10-20 | 2026-09-03       
            2025-09-03 | 2025-09-03 | 2026-10-20 | 2026-08-01       | 2026-11-10      | 2026-08-01   | 2026-10-20 |                  
            2026-12-30 | 2026-12-30 | 2027-04-20 | 2026-12-01       | 2027-03-31      | 2026-12-01   | 2027-03-31 | 2027-12-30       
        """,  # noqa: E501
        near_misses="""
            first_day  | last_day   | received   | season_first_day | season_last_day | earliest_day | latest_day | day_in_usual_year | recordKind
            2025-05-03 | 2025-05-03 | 2026-10-20 | 2026-08-01       | 2026-11-10      | 2026-08-01   | 2026-10-20 | 2026-05-03        | release
            2025-10-21 | 2025-10-21 | 2026-10-20 | 2026-08-01       | 2026-11-10      | 2026-08-01   | 2026-10-20 | 2026-10-21        | release
            2025-09-03 | 2025-09-03 | 2026-10-20 | 2026-08-01       | 2026-11-10      | 2026-08-01   | 2026-10-20 | 2025-09-03        | release
            2027-09-03 | 2027-09-03 | 2026-10-20 | 2026-08-01       | 2026-11-10      | 2026-08-01   | 2026-10-20 | 2026-09-03        | release
            2025-09-03 | 2026-08-01 | 2026-10-20 | 2026-08-01       | 2026-11-10      | 2026-08-01   | 2026-10-20 | 2026-09-03        | release
            2027-01-05 | 2027-01-05 | 2027-04-20 | 2026-01-01       | 2027-01-05      | 2026-01-01   | 2027-01-05 | 2026-01-05        | release
            2025-09-03 | 2025-09-03 | 2026-10-20 | 2026-08-01       | 2026-11-10      | 2026-08-01   | 2026-10-20 | 2026-09-03        | find

            first_day  | last_day   | received   | season_first_day | season_last_day | earliest_day | latest_day | day_in_usual_year | eventDate_kind | first_true_day | last_true_day
            2022-08-31 | 2022-08-31 | 2026-12-20 | 2026-08-01       | 2026-11-10      | 2026-08-01   | 2026-11-10 | 2026-08-31        | d              | 2022-07-31     | 2022-11-09
        """,  # noqa: E501
    ),
)
