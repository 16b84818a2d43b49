"""True dates all under 13 beside texts all over 12: the spreadsheet took the day for the month."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(rows: pd.DataFrame) -> pd.Series:
    is_true_date = rows["eventDate_kind"] == "d"
    is_crossed = is_true_date & (rows["highest_true_day"] <= 12) & (rows["lowest_text_day"] > 12)
    return is_crossed & (rows["other_order"] != rows["first_day"])


def suggests(found: pd.DataFrame) -> dict[str, pd.Series]:
    is_possible = found["other_order"] <= found["received"]
    return {"eventDate": found["other_order"].dt.strftime("%Y-%m-%d").where(is_possible, "")}


RULE = Rule(
    title="Day and month crossed by the spreadsheet",
    severity="must-answer",
    scope="sheet",
    asks="tagger",
    fields=("eventDate",),
    looked_up=(
        "eventDate_kind",
        "first_day",
        "other_order",
        "received",
        "highest_true_day",
        "lowest_text_day",
    ),
    message="In your column of dates all that the spreadsheet took for dates fall on day 1 to 12, and all"
    " that it left as text on day 13 or later, so it probably took your days for months. Row {row} then is"
    " not {first_day} but {suggestion}. Shall we exchange them?",
    unsuggested="In your column of dates all that the spreadsheet took for dates fall on day 1 to 12, and"
    " all that it left as text on day 13 or later, so it probably took your days for months. Row {row} now"
    " says {first_day}. Which day was it?",
    why="a spreadsheet set to month first turns 3/9 into 9 March and leaves 23/9 as text",
    source="common practice; three dates of each kind are our proposal",
    examples=Examples(
        finds="""
            eventDate_kind | first_day  | other_order | received   | highest_true_day | lowest_text_day | suggests eventDate | found
            d              | 2026-03-09 | 2026-09-03  | 2026-10-20 | 12               | 13              | 2026-09-03         | yes
            d              | 2026-08-12 | 2026-12-08  | 2026-12-08 | 12               | 13              | 2026-12-08         | yes
            d              | 2026-08-12 | 2026-12-08  | 2026-12-07 | 12               | 13              |                    | yes
            t              | 2026-09-23 |             | 2026-10-20 | 12               | 13              |                    | no
        """,  # noqa: E501
        leaves="""
            eventDate_kind | first_day  | other_order | received   | highest_true_day | lowest_text_day
            d              | 2026-03-09 | 2026-09-03  | 2026-10-20 | 12               |
            t              | 2026-09-23 |             | 2026-10-20 |                  | 13
        """,
        near_misses="""
            eventDate_kind | first_day  | other_order | received   | highest_true_day | lowest_text_day
            d              | 2026-03-09 | 2026-09-03  | 2026-10-20 | 13               | 13
            d              | 2026-03-09 | 2026-09-03  | 2026-10-20 | 12               | 12
            d              | 2026-09-09 | 2026-09-09  | 2026-10-20 | 12               | 13
            t              | 2026-09-03 | 2026-03-09  | 2026-10-20 | 12               | 13
        """,
    ),
)
