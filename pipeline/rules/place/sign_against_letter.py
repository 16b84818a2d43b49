"""A minus and a letter that say opposite things about the same coordinate."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(rows: pd.DataFrame) -> pd.Series:
    in_latitude = rows["decimalLatitude_doubt"] == "sign-against-letter"
    return in_latitude | (rows["decimalLongitude_doubt"] == "sign-against-letter")


def stands_on(found: pd.DataFrame) -> pd.Series:
    """The longitude only where the latitude agrees with itself."""
    latitude = pd.Series("decimalLatitude", index=found.index, dtype="str")
    return latitude.where(found["decimalLatitude_doubt"] == "sign-against-letter", "decimalLongitude")


RULE = Rule(
    title="A sign against a letter",
    severity="must-answer",
    scope="row",
    asks="tagger",
    fields=("decimalLatitude", "decimalLongitude"),
    looked_up=("decimalLatitude_doubt", "decimalLongitude_doubt"),
    message="In row {row} the minus and the letter of the position do not go together (latitude"
    ' "{decimalLatitude}", longitude "{decimalLongitude}"): a minus is south or west already, and the'
    " other reading lies on the far side of the Earth. Is it north or south, east or west?",
    why="one of the two marks is a slip, and they lead to opposite sides of the Earth",
    source="ISO 6709",
    examples=Examples(
        finds="""
            decimalLatitude | decimalLatitude_doubt | decimalLongitude | decimalLongitude_doubt
            -45.83 N        | sign-against-letter   | -64.21           |
            45.83           |                       | -64.21 E         | sign-against-letter
        """,
        leaves="""
            decimalLatitude | decimalLongitude
            45.83           | -64.21
                            |
        """,
        near_misses="""
            decimalLatitude | decimalLatitude_doubt | decimalLongitude | decimalLongitude_doubt
            64.21 W         | wrong-axis            | 45.83 N          | wrong-axis
            45 30           | two-readings          | -64.21           |
        """,
    ),
)
