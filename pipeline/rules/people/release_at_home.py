"""A release within 500 m of a home on file."""

import pandas as pd

from pipeline.rule import Examples, Rule

NEAR_KM = 0.5


def finds(x: pd.DataFrame) -> pd.Series:
    return (x["recordKind"] == "release") & (x["km_from_home"] <= NEAR_KM)


RULE = Rule(
    title="A release at home",
    severity="for-information",
    scope="row",
    asks="tagger",
    fields=("decimalLatitude",),
    looked_up=("km_from_home",),
    # The home may be a neighbour's, so neither whose it is nor how near is told.
    message="The place of row {row} is shown to others only as a rough area, because somebody may live"
    " there. Your exact point stays with us. There is nothing to do.",
    why="nobody should be able to find a home from our data",
    source="our proposal: 500 m; common practice of making places coarser",
    examples=Examples(
        finds="""
            decimalLatitude | km_from_home
            45.8931         | 0
            45.8931         | 0.5
        """,
        leaves="""
            decimalLatitude | km_from_home
            45.8931         | 12.3
        """,
        near_misses="""
            decimalLatitude | km_from_home | recordKind
            45.8931         | 0.501        | release
            ""              |              | release
            45.8931         | 0.1          | find
        """,
    ),
)
