"""Latitudes or longitudes that climb by the same step from row to row."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(rows: pd.DataFrame) -> pd.Series:
    return rows["climbing_rows"] >= 4


def suggests(found: pd.DataFrame) -> dict[str, pd.Series]:
    return {"decimalLatitude": found["climb_latitude"], "decimalLongitude": found["climb_longitude"]}


RULE = Rule(
    title="A position dragged down",
    severity="must-answer",
    scope="sheet",
    asks="tagger",
    fields=("decimalLatitude", "decimalLongitude"),
    looked_up=("climbing_rows", "climb_latitude", "climb_longitude"),
    message="Your coordinates climb by exactly the same step over {climbing_rows} rows (row {row}:"
    " {decimalLatitude}, {decimalLongitude}), which a spreadsheet does when a cell is dragged down, and it"
    " moves the butterflies to places where nobody was. Should they all have the first point,"
    " {climb_latitude}, {climb_longitude}?",
    why="no walk goes on by the same step to the last decimal four times running",
    source="common practice; four rows are our proposal",
    examples=Examples(
        finds="""
            decimalLatitude | decimalLongitude | climbing_rows | climb_latitude | climb_longitude | suggests decimalLatitude | suggests decimalLongitude | found
            45.8312         | -64.2105         | 4             | 45.8312        | -64.2105        | 45.8312                  | -64.2105                  | yes
            45.8313         | -64.2105         | 4             | 45.8312        | -64.2105        | 45.8312                  | -64.2105                  | yes
            45.8314         | -64.2105         | 4             | 45.8312        | -64.2105        | 45.8312                  | -64.2105                  | yes
            45.8315         | -64.2105         | 4             | 45.8312        | -64.2105        | 45.8312                  | -64.2105                  | yes
            45.9            | -64.3            | 0             |                |                 |                          |                           | no
        """,  # noqa: E501
        leaves="""
            decimalLatitude | decimalLongitude | climbing_rows
            45.8312         | -64.2105         | 0
                            |                  |
        """,
        near_misses="""
            decimalLatitude | decimalLongitude | climbing_rows | climb_latitude | climb_longitude
            45.8312         | -64.2105         | 3             | 45.8312        | -64.2105
        """,
    ),
)
