"""A day of which its writer was not sure."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(rows: pd.DataFrame) -> pd.Series:
    return rows["eventDate_doubt"] == "unsure"


def suggests(found: pd.DataFrame) -> dict[str, pd.Series]:
    return {"eventDate": found["eventDate_candidates"]}


RULE = Rule(
    title="A day marked as unsure",
    severity="must-answer",
    scope="row",
    asks="tagger",
    fields=("eventDate",),
    looked_up=("eventDate_doubt", "eventDate_candidates"),
    message='In row {row} you wrote "{seen}", with a sign that you were not sure of the day. Was it the day that we'
    " suggest? If you only know the month, or a first and a last day, that will do as well.",
    why="a day published as sure is taken as sure",
    source="mess found in real field sheets: a question mark as doubt",
    examples=Examples(
        finds="""
            eventDate     | eventDate_doubt | eventDate_candidates | suggests eventDate
            3 Sept 2026?  | unsure          | 2026-09-03           | 2026-09-03
            ~3 Sept 2026  | unsure          | 2026-09-03           | 2026-09-03
        """,
        leaves="""
            eventDate  | eventDate_doubt
            2026-09-03 |
        """,
        near_misses="""
            eventDate | eventDate_doubt
            soon?     | not-a-day
            3/9/2026  | two-readings
        """,
    ),
)
