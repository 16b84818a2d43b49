"""A latitude or longitude that can be read as degrees and minutes or as decimal degrees."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(rows: pd.DataFrame) -> pd.Series:
    in_latitude = rows["decimalLatitude_doubt"] == "two-readings"
    return in_latitude | (rows["decimalLongitude_doubt"] == "two-readings")


def stands_on(found: pd.DataFrame) -> pd.Series:
    """The longitude only where the latitude has one reading."""
    latitude = pd.Series("decimalLatitude", index=found.index, dtype="str")
    return latitude.where(found["decimalLatitude_doubt"] == "two-readings", "decimalLongitude")


RULE = Rule(
    title="A position that can be read in two ways",
    severity="must-answer",
    scope="row",
    asks="tagger",
    fields=("decimalLatitude", "decimalLongitude"),
    looked_up=("decimalLatitude_doubt", "decimalLongitude_doubt"),
    message='The position in row {row} (latitude "{decimalLatitude}", longitude "{decimalLongitude}") can'
    " be degrees and minutes or degrees with decimals, and the two can lie 50 km apart. Which one did you"
    " write? With signs for degrees and minutes there is no doubt: 45°30'.",
    why="thirty minutes are half a degree, and 0.30 is not",
    source="ISO 6709; common practice",
    examples=Examples(
        finds="""
            decimalLatitude | decimalLatitude_doubt | decimalLongitude | decimalLongitude_doubt
            45 30           | two-readings          | 64 12            | two-readings
            45 30           | two-readings          | -64.21           |
            45.83           |                       | 64 12            | two-readings
        """,
        leaves="""
            decimalLatitude | decimalLongitude
            45.83           | -64.21
                            |
        """,
        near_misses="""
            decimalLatitude | decimalLatitude_doubt | decimalLongitude | decimalLongitude_doubt
            45 72.5         | minutes-over-59       | -64.21           |
            45.83           |                       | -64.21 E         | sign-against-letter
        """,
    ),
)
