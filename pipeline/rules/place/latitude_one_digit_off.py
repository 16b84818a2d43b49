"""A doubtful point that one other digit in its latitude brings to the person's own places."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(rows: pd.DataFrame) -> pd.Series:
    other_readings = rows[["crossed_is_in_region", "minus_is_in_region", "south_is_in_region"]].sum(axis=1)
    is_explained = ~rows["is_in_region"] & (other_readings == 1)
    return (rows["nearest_latitude"] != "") & ~is_explained & ~(rows["climbing_rows"] >= 4)


def suggests(found: pd.DataFrame) -> dict[str, pd.Series]:
    return {"decimalLatitude": found["nearest_latitude"]}


RULE = Rule(
    title="Latitude one digit off",
    severity="must-answer",
    scope="row",
    asks="tagger",
    fields=("decimalLatitude", "decimalLongitude"),
    looked_up=(
        "nearest_latitude",
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
    " and this row's words say, and one digit may be another. What should the latitude be?",
    why="one digit moves a point by up to a thousand kilometres",
    source="our proposal: the only number one digit away with which the point lies within 1 km of another of the"
    " person's places",
    examples=Examples(
        finds="""
            decimalLatitude | decimalLongitude | nearest_latitude | is_in_region | suggests decimalLatitude
            48.9045         | -64.3712         | 45.9045          | no           | 45.9045
            48.9045         | -64.3712         | 45.9045          | yes          | 45.9045

            decimalLatitude | nearest_latitude | is_in_region | crossed_is_in_region | minus_is_in_region | suggests decimalLatitude
            48.9045         | 45.9045          | no           | yes                  | yes                | 45.9045
            48.9045         | 45.9045          | yes          | yes                  | no                 | 45.9045
        """,  # noqa: E501
        leaves="""
            decimalLatitude | decimalLongitude | nearest_latitude
            45.9045         | -64.3712         | ""
            "" | "" | ""
        """,
        near_misses="""
            decimalLatitude | nearest_latitude | is_in_region | crossed_is_in_region | minus_is_in_region | south_is_in_region | climbing_rows
            48.9045         | ""               | no           | no                   | no                 | no                 | 0
            48.9045         | 45.9045          | no           | yes                  | no                 | no                 | 0
            48.9045         | 45.9045          | no           | no                   | yes                | no                 | 0
            48.9045         | 45.9045          | no           | no                   | no                 | yes                | 0
            48.9045         | 45.9045          | yes          | no                   | no                 | no                 | 4
        """,  # noqa: E501
    ),
)
