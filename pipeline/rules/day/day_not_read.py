"""A text in the day column in which we see no day."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(rows: pd.DataFrame) -> pd.Series:
    is_damaged = rows["eventDate_kind"].isin(["e", "f"])  # asked about by the rules on damage
    return (rows["eventDate_doubt"] == "not-a-day") & ~is_damaged


RULE = Rule(
    title="A day that we could not read",
    severity="must-answer",
    scope="row",
    asks="tagger",
    fields=("eventDate",),
    looked_up=("eventDate_doubt", "eventDate_kind"),
    message='We could not read a day in "{seen}" (row {row}), and a record needs one to stand in the'
    " season. Please write it like 3 September 2026; the month alone, or a first and a last day, will do"
    " as well.",
    why="a text that we do not understand may hide a day, or belong to another column",
    source="common practice",
    examples=Examples(
        finds="""
            eventDate       | eventDate_doubt | eventDate_kind
            early fall      | not-a-day       | t
            after the storm | not-a-day       | t
            7               | not-a-day       | n
        """,
        leaves="""
            eventDate
            2026-09-03
            2026-09

        """,
        near_misses="""
            eventDate | eventDate_doubt | eventDate_kind
            #N/A      | not-a-day       | e
            =A2+1     | not-a-day       | f
            3 sept    | no-year         | t
        """,
    ),
)
