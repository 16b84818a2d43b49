"""A needed cell that holds a formula of which the file kept no result."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(x: pd.Series) -> pd.Series:
    return x.str.startswith("=")


RULE = Rule(
    title="A formula without a saved result",
    severity="must-answer",
    scope="cell",
    asks="tagger",
    fields=("tagCode", "eventDate", "scientificName", "decimalLatitude", "decimalLongitude"),
    message='A cell of row {row} holds a formula ("{seen}") and the file has no saved result for it; we'
    " never work out formulas ourselves. Please type the value itself.",
    why="a formula worked out by us might give another value than the one on your screen",
    source="common practice; OWASP, CSV injection",
    examples=Examples(
        finds="""
            eventDate
            =C11+1
            =

            decimalLatitude
            =A2+B2/60
        """,
        leaves="""
            eventDate
            2026-09-03
        """,
        near_misses="""
            decimalLongitude
            -64.8
            +45.5
            45=
            ""
        """,
    ),
)
