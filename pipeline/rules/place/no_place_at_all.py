"""A row with neither a position nor any word for the place."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(rows: pd.DataFrame) -> pd.Series:
    has_no_position = (rows["decimalLatitude"] == "") & (rows["decimalLongitude"] == "")
    return has_no_position & ~rows["has_place_words"] & ~rows["place_columns_are_missing"]


RULE = Rule(
    title="No place at all",
    severity="must-answer",
    scope="row",
    asks="tagger",
    fields=("decimalLatitude", "decimalLongitude", "locality", "municipality", "county", "stateProvince"),
    looked_up=("has_place_words", "place_columns_are_missing"),
    message="Row {row} names no place and gives no position, and a tag that is found needs a place to have"
    " come from. Where was it? A town is enough.",
    why="without a place there is no distance and no dot on the map",
    source="common practice; Darwin Core asks for a place in words or numbers",
    examples=Examples(
        finds="""
            decimalLatitude | decimalLongitude | has_place_words
                            |                  | no
        """,
        leaves="""
            decimalLatitude | decimalLongitude | municipality | has_place_words
            45.83           | -64.21           |              | no
                            |                  | Amherst      | yes
        """,
        near_misses="""
            decimalLatitude | decimalLongitude | has_place_words | place_columns_are_missing
            45.83           |                  | no              | no
                            | -64.21           | no              | no
                            |                  | no              | yes
        """,
    ),
)
