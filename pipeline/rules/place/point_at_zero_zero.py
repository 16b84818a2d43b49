"""A point at exactly 0, 0."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(rows: pd.DataFrame) -> pd.Series:
    return (rows["latitude"] == 0) & (rows["longitude"] == 0)


RULE = Rule(
    title="A point at 0, 0",
    severity="must-answer",
    scope="row",
    asks="tagger",
    fields=("decimalLatitude", "decimalLongitude"),
    looked_up=("latitude", "longitude"),
    message="The point in row {row} is exactly 0, 0, which lies in the sea off Africa and usually means"
    " that the phone did not know where it was. Where was it? A town is enough.",
    why="a receiver without a fix writes zeros",
    source="common practice",
    waivable=False,
    examples=Examples(
        finds="""
            decimalLatitude | decimalLongitude | latitude | longitude | is_in_region
            0               | 0                | 0        | 0         | no
            0.000           | -0.000           | 0        | 0         | no
        """,
        leaves="""
            decimalLatitude | decimalLongitude | latitude | longitude
            45.8312         | -64.2105         | 45.8312  | -64.2105
                            |                  |          |
        """,
        near_misses="""
            decimalLatitude | decimalLongitude | latitude | longitude
            0               | -78.5            | 0        | -78.5
            45.8312         | 0                | 45.8312  | 0
            0.0001          | 0                | 0.0001   | 0
            0               |                  | 0        |
        """,
    ),
)
