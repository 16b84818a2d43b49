"""A butterfly said to be wild whose day of emergence is known."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(rows: pd.DataFrame) -> pd.Series:
    is_wild = (rows["recordKind"] == "release") & (rows["origin"] == "wild")
    return is_wild & rows["emergence_day"].notna()


RULE = Rule(
    title="Wild, with a day of emergence",
    severity="please-check",
    scope="row",
    asks="tagger",
    fields=("origin", "emergenceDate"),
    looked_up=("emergence_day",),
    withholds=("origin",),
    message='Row {row} says "{seen}" and also names the day on which the butterfly came out'
    " ({emergence_day}), which is seldom seen outdoors. Was it reared, bred, or wild and watched? Until we"
    " know, its origin stays out of the published record.",
    why="a known day of emergence mostly means that it was raised by somebody",
    source="common practice",
    examples=Examples(
        finds="""
            origin | emergenceDate | emergence_day
            wild   | 2026-09-01    | 2026-09-01
        """,
        leaves="""
            origin | emergenceDate | emergence_day
            wild   |               |
            reared | 2026-09-01    | 2026-09-01
        """,
        near_misses="""
            origin | emergenceDate | emergence_day | recordKind
                   | 2026-09-01    | 2026-09-01    | release
            wild   | not known yet |               | release
            wild   | 2026-09-01    | 2026-09-01    | find
        """,
    ),
)
