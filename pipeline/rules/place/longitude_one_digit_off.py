"""A doubtful point that one other digit in its longitude brings to the person's own places."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(rows: pd.DataFrame) -> pd.Series:
    other_readings = rows[["crossed_is_in_region", "minus_is_in_region", "south_is_in_region"]].sum(axis=1)
    is_explained = ~rows["is_in_region"] & (other_readings == 1)
    return (rows["nearest_longitude"] != "") & ~is_explained & ~(rows["climbing_rows"] >= 4)


def suggests(found: pd.DataFrame) -> dict[str, pd.Series]:
    return {"decimalLongitude": found["nearest_longitude"]}


RULE = Rule(
    title="Longitude one digit off",
    severity="must-answer",
    scope="row",
    asks="tagger",
    fields=("decimalLongitude", "decimalLatitude"),
    looked_up=(
        "nearest_longitude",
        "is_in_region",
        "crossed_is_in_region",
        "minus_is_in_region",
        "south_is_in_region",
        "climbing_rows",
    ),
    message="The point in row {row} ({decimalLatitude}, {decimalLongitude}) lies far from where your other rows and"
    " this row's words say, and with one other digit, {suggestion}, it lies at a place of yours. Was it"
    " {suggestion}?",
    unsuggested="The point in row {row} ({decimalLatitude}, {decimalLongitude}) lies far from where your other rows"
    " and this row's words say, and one digit may be another. What should the longitude be?",
    why="one digit moves a point by up to a thousand kilometres",
    source="our proposal: the only number one digit away with which the point lies within 1 km of another of the"
    " person's places",
    examples=Examples(
        finds="""
            decimalLongitude | decimalLatitude | nearest_longitude | is_in_region | suggests decimalLongitude
            -61.3712         | 45.9045         | -64.3712          | no           | -64.3712
            -61.3712         | 45.9045         | -64.3712          | yes          | -64.3712

            decimalLongitude | nearest_longitude | is_in_region | crossed_is_in_region | minus_is_in_region | suggests decimalLongitude
            -61.3712         | -64.3712          | no           | yes                  | yes                | -64.3712
            -61.3712         | -64.3712          | yes          | yes                  | no                 | -64.3712
        """,  # noqa: E501
        leaves="""
            decimalLongitude | decimalLatitude | nearest_longitude
            -64.3712         | 45.9045         | ""
            "" | "" | ""
        """,
        near_misses="""
            decimalLongitude | nearest_longitude | is_in_region | crossed_is_in_region | minus_is_in_region | south_is_in_region | climbing_rows
            -61.3712         | ""                | no           | no                   | no                 | no                 | 0
            -61.3712         | -64.3712          | no           | yes                  | no                 | no                 | 0
            -61.3712         | -64.3712          | no           | no                   | yes                | no                 | 0
            -61.3712         | -64.3712          | no           | no                   | no                 | yes                | 0
            -61.3712         | -64.3712          | yes          | no                   | no                 | no                 | 4
        """,  # noqa: E501
    ),
)
