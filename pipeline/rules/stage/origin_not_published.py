"""An origin that the programme's settings keep at home."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(rows: pd.DataFrame) -> pd.Series:
    return rows["origin_stays_home"]


RULE = Rule(
    title="An origin that is not published",
    severity="for-information",
    scope="row",
    asks="tagger",
    fields=("origin",),
    looked_up=("origin_stays_home",),
    message='Row {row} says "{seen}" for the origin, and our programme sends butterflies of that origin to'
    " no portal. The tag counts for you and can be found like any other; there is nothing to do.",
    why="records of butterflies that are not wild would be read as signs of where the species lives",
    source="the programme's settings",
    examples=Examples(
        finds="""
            origin | origin_stays_home
            bred   | yes
            bought | yes
        """,
        leaves="""
            origin
            wild
            reared

        """,
        near_misses="""
            origin | origin_stays_home
            bred   | no
        """,
    ),
)
