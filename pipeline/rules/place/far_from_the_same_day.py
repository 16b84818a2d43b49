"""A place far from all other places of the same person on the same day."""

import pandas as pd

from pipeline.rule import Examples, Rule

FAR = 150  # km


def finds(rows: pd.DataFrame) -> pd.Series:
    is_slip = (rows["nearest_latitude"] != "") | (rows["nearest_longitude"] != "")
    return (rows["km_from_same_day"] > FAR) & rows["is_in_region"] & ~is_slip


RULE = Rule(
    title="Far from the other places of the day",
    severity="please-check",
    scope="person",
    asks="tagger",
    fields=("decimalLatitude", "decimalLongitude"),
    looked_up=("km_from_same_day", "is_in_region", "nearest_latitude", "nearest_longitude"),
    message="The point in row {row} ({decimalLatitude}, {decimalLongitude}) is {km_from_same_day} km from"
    " your nearest other place on the same day, and a slip in one digit can do that (we ask from 150 km"
    " on). Did you travel? Then it is right as it is; tell us so.",
    why="few people tag in places so far apart within a day",
    source="our proposal, more than 150 km",
    examples=Examples(
        finds="""
            decimalLatitude | decimalLongitude | km_from_same_day
            47.8312         | -64.2105         | 222.3
            47.1801         | -64.2105         | 150.1
        """,
        leaves="""
            decimalLatitude | decimalLongitude | km_from_same_day
            45.8312         | -64.2105         | 0.4
            45.8312         | -64.2105         |
        """,
        near_misses="""
            decimalLatitude | decimalLongitude | km_from_same_day | is_in_region
            47.1792         | -64.2105         | 150              | yes
            45.8312         | 64.2105          | 8800             | no

            decimalLatitude | km_from_same_day | nearest_latitude | nearest_longitude
            48.8312         | 333.1            | 45.8312          |
            45.8312         | 333.1            |                  | -64.2105
        """,
    ),
)
