"""A release earlier than the day on which the same butterfly was caught or came out."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(rows: pd.DataFrame) -> pd.Series:
    last = rows["last_day"]
    is_before = (last < rows["capture_day"]) | (last < rows["emergence_day"])
    is_possible = (last >= rows["earliest_day"]) & (rows["first_day"] <= rows["latest_day"])
    is_true_date = rows["eventDate_kind"] == "d"
    is_crossed = is_true_date & (rows["highest_true_day"] <= 12) & (rows["lowest_text_day"] > 12)
    is_crossed &= rows["other_order"] != rows["first_day"]
    return (rows["recordKind"] == "release") & is_before & is_possible & ~is_crossed


RULE = Rule(
    title="A release before the capture",
    severity="must-answer",
    scope="row",
    asks="tagger",
    fields=("eventDate", "captureDate", "emergenceDate"),
    looked_up=(
        "first_day",
        "last_day",
        "other_order",
        "capture_day",
        "emergence_day",
        "earliest_day",
        "latest_day",
        "eventDate_kind",
        "highest_true_day",
        "lowest_text_day",
    ),
    message='Row {row} gives "{seen}" as the day of release, and a later day on which the butterfly was'
    " caught or came out of its chrysalis, so one of the days must be another. Which day is right?",
    why="a butterfly is caught, or comes out, before it can be let go",
    source="common practice",
    waivable=False,
    examples=Examples(
        finds="""
            first_day  | last_day   | capture_day | emergence_day | earliest_day | latest_day
            2026-09-03 | 2026-09-03 | 2026-09-04  |               | 2026-08-01   | 2026-10-20
            2026-09-03 | 2026-09-03 |             | 2026-09-05    | 2026-08-01   | 2026-10-20
            2026-09-03 | 2026-09-03 | 2026-09-03  | 2026-09-05    | 2026-08-01   | 2026-10-20
            2026-08-01 | 2026-08-01 | 2026-09-04  |               | 2026-08-01   | 2026-10-20
            2026-10-20 | 2026-10-20 | 2026-10-21  |               | 2026-08-01   | 2026-10-20

            eventDate_kind | first_day  | last_day   | other_order | capture_day | earliest_day | latest_day | highest_true_day | lowest_text_day
            d              | 2026-08-08 | 2026-08-08 | 2026-08-08  | 2026-09-07  | 2026-08-01   | 2026-10-20 | 9                | 13

            eventDate_kind | first_day  | last_day   | capture_day | earliest_day | latest_day | highest_true_day | lowest_text_day
            d              | 2026-08-09 | 2026-08-09 | 2026-09-07  | 2026-08-01   | 2026-10-20 | 9                |
            d              | 2026-08-09 | 2026-08-09 | 2026-09-07  | 2026-08-01   | 2026-10-20 | 9                | 12
            d              | 2026-08-09 | 2026-08-09 | 2026-09-07  | 2026-08-01   | 2026-10-20 | 13               | 13
            t              | 2026-08-09 | 2026-08-09 | 2026-09-07  | 2026-08-01   | 2026-10-20 | 9                | 13
        """,  # noqa: E501
        leaves="""
            first_day  | last_day   | capture_day | emergence_day | earliest_day | latest_day
            2026-09-03 | 2026-09-03 | 2026-09-01  | 2026-08-30    | 2026-08-01   | 2026-10-20
            2026-09-03 | 2026-09-03 |             |               | 2026-08-01   | 2026-10-20
                       |            | 2026-09-01  |               | 2026-08-01   | 2026-10-20
        """,
        near_misses="""
            first_day  | last_day   | capture_day | emergence_day | earliest_day | latest_day | recordKind
            2026-09-03 | 2026-09-03 | 2026-09-03  |               | 2026-08-01   | 2026-10-20 | release
            2026-09-03 | 2026-09-03 |             | 2026-09-03    | 2026-08-01   | 2026-10-20 | release
            2026-09-01 | 2026-09-30 | 2026-09-05  |               | 2026-08-01   | 2026-10-20 | release
            2025-09-03 | 2025-09-03 | 2026-09-01  |               | 2026-08-01   | 2026-10-20 | release
            2026-10-21 | 2026-10-21 | 2026-10-26  |               | 2026-08-01   | 2026-10-20 | release
            2026-09-03 | 2026-09-03 | 2026-09-04  |               | 2026-08-01   | 2026-10-20 | find

            eventDate_kind | first_day  | last_day   | capture_day | earliest_day | latest_day | highest_true_day | lowest_text_day
            d              | 2026-08-09 | 2026-08-09 | 2026-09-07  | 2026-08-01   | 2026-10-20 | 12               | 13
        """,  # noqa: E501
    ),
)
