"""True dates that all lie four years and a day early: the spreadsheet counted its days from 1904."""

import pandas as pd

from pipeline.rule import Examples, Rule

BETWEEN_DAY_COUNTS = pd.Timedelta(days=1462)  # from 1900-01-01 to 1904-01-02, as spreadsheets count


def finds(rows: pd.DataFrame) -> pd.Series:
    begins_in_season = rows["first_true_day"] + BETWEEN_DAY_COUNTS >= rows["season_first_day"]
    ends_in_season = rows["last_true_day"] + BETWEEN_DAY_COUNTS <= rows["season_last_day"]
    is_release = rows["recordKind"] == "release"
    return is_release & (rows["eventDate_kind"] == "d") & begins_in_season & ends_in_season


def suggests(found: pd.DataFrame) -> dict[str, pd.Series]:
    moved = found["first_day"] + BETWEEN_DAY_COUNTS
    is_possible = moved <= found["received"]
    return {"eventDate": moved.dt.strftime("%Y-%m-%d").where(is_possible, "")}


RULE = Rule(
    title="Days about four years off",
    severity="must-answer",
    scope="sheet",
    asks="tagger",
    fields=("eventDate",),
    looked_up=(
        "eventDate_kind",
        "first_day",
        "first_true_day",
        "last_true_day",
        "season_first_day",
        "season_last_day",
        "received",
    ),
    message="The dates of this sheet are about four years early (row {row}: {first_day}), as some"
    " computers count days from 1904, and a find could not be placed. Shall we move them by 1,462 days, to"
    " {suggestion} here? If the sheet really is of that year, tell us so.",
    unsuggested="The dates of this sheet are about four years early (row {row}: {first_day}), as some"
    " computers count days from 1904, and a find could not be placed. Which day was it in this row?",
    why="a sheet that is opened under the other day count shows every true date four years and a day off",
    source="common practice: spreadsheets count days from 1900 or from 1904, 1,462 days apart",
    examples=Examples(
        finds="""
            eventDate_kind | first_day  | first_true_day | last_true_day | season_first_day | season_last_day | received   | suggests eventDate | found
            d              | 2022-09-02 | 2022-07-31     | 2022-11-09    | 2026-08-01       | 2026-11-10      | 2026-11-20 | 2026-09-03         | yes
            d              | 2022-11-09 | 2022-07-31     | 2022-11-09    | 2026-08-01       | 2026-11-10      | 2026-11-10 | 2026-11-10         | yes
            d              | 2022-11-09 | 2022-07-31     | 2022-11-09    | 2026-08-01       | 2026-11-10      | 2026-11-09 |                    | yes
            t              | 2026-09-05 | 2022-07-31     | 2022-11-09    | 2026-08-01       | 2026-11-10      | 2026-11-20 |                    | no
        """,  # noqa: E501
        leaves="""
            eventDate_kind | first_day  | first_true_day | last_true_day | season_first_day | season_last_day
            d              | 2026-09-03 | 2026-09-01     | 2026-09-21    | 2026-08-01       | 2026-11-10
            d              | 2022-09-02 |                |               | 2026-08-01       | 2026-11-10
        """,
        near_misses="""
            eventDate_kind | first_day  | first_true_day | last_true_day | season_first_day | season_last_day | recordKind
            d              | 2022-09-02 | 2022-07-30     | 2022-11-09    | 2026-08-01       | 2026-11-10      | release
            d              | 2022-09-02 | 2022-07-31     | 2022-11-10    | 2026-08-01       | 2026-11-10      | release
            d              | 2022-09-02 | 2022-07-31     | 2026-09-03    | 2026-08-01       | 2026-11-10      | release
            t              | 2022-09-02 | 2022-07-31     | 2022-11-09    | 2026-08-01       | 2026-11-10      | release
            d              | 2022-09-02 | 2022-07-31     | 2022-11-09    | 2026-08-01       | 2026-11-10      | find
        """,  # noqa: E501
    ),
)
