"""A point outside the countries of the programme that no other rule explains."""

import pandas as pd

from pipeline.rule import Examples, Rule

OF_A_COUNTRY = 370  # km, 200 nautical miles: a point on such water is asked about itself


def finds(rows: pd.DataFrame) -> pd.Series:
    is_on_globe = (rows["latitude"].abs() <= 90) & (rows["longitude"].abs() <= 180)
    is_at_zero = (rows["latitude"] == 0) & (rows["longitude"] == 0)
    # With several explanations possible none is offered, and the question is asked here.
    other_readings = rows[["crossed_is_in_region", "minus_is_in_region", "south_is_in_region"]].sum(axis=1)
    is_slip = (rows["nearest_latitude"] != "") | (rows["nearest_longitude"] != "")
    is_wet = rows["km_to_land"].between(2, OF_A_COUNTRY, inclusive="right")
    is_wet &= ~(rows["km_to_land"] * 1000 <= rows["point_metres"])
    is_asked_elsewhere = is_at_zero | (other_readings == 1) | is_slip | is_wet | (rows["climbing_rows"] >= 4)
    return is_on_globe & ~rows["is_in_region"] & ~is_asked_elsewhere


RULE = Rule(
    title="A point outside the region",
    severity="must-answer",
    scope="row",
    asks="tagger",
    fields=("decimalLatitude", "decimalLongitude"),
    looked_up=(
        "latitude",
        "longitude",
        "is_in_region",
        "crossed_is_in_region",
        "minus_is_in_region",
        "south_is_in_region",
        "km_to_land",
        "point_metres",
        "climbing_rows",
        "nearest_latitude",
        "nearest_longitude",
    ),
    message="The point in row {row} ({decimalLatitude}, {decimalLongitude}) lies outside the countries of"
    " our programme, and one digit can move a point that far. Could you look at both numbers once more? If"
    " the place is right, tell us so.",
    why="a point far from every other is more often a slip than a journey",
    source="the programme's settings",
    examples=Examples(
        finds="""
            decimalLatitude | decimalLongitude | latitude | longitude | is_in_region | crossed_is_in_region | minus_is_in_region
            51.5            | 7.2              | 51.5     | 7.2       | no           | no                   | no
            40.1            | 50.2             | 40.1     | 50.2      | no           | yes                  | yes
            0               | -30.5            | 0        | -30.5     | no           | no                   | no
            51.5            | 0                | 51.5     | 0         | no           | no                   | no
            90              | 7.2              | 90       | 7.2       | no           | no                   | no
            51.5            | -180             | 51.5     | -180      | no           | no                   | no

            decimalLatitude | latitude | longitude | is_in_region | km_to_land | point_metres
            45.9114         | 45.9114  | -46.3689  | no           | 370.1      | 30
            44.2            | 44.2     | -43.2     | no           | 2          | 30
            44              | 44       | -63       | no           | 40         | 40000
        """,  # noqa: E501
        leaves="""
            decimalLatitude | decimalLongitude | latitude | longitude | is_in_region
            45.8312         | -64.2105         | 45.8312  | -64.2105  | yes
                            |                  |          |           | no
        """,
        near_misses="""
            decimalLatitude | decimalLongitude | latitude | longitude | is_in_region | crossed_is_in_region | minus_is_in_region | climbing_rows
            -64.2105        | 45.8312          | -64.2105 | 45.8312   | no           | yes                  | no                 | 0
            45.8312         | 64.2105          | 45.8312  | 64.2105   | no           | no                   | yes                | 0
            0               | 0                | 0        | 0         | no           | no                   | no                 | 0
            95.83           | -64.2105         | 95.83    | -64.2105  | no           | no                   | no                 | 0
            45.8312         | -264.2105        | 45.8312  | -264.2105 | no           | no                   | no                 | 0
            51.5            |                  | 51.5     |           | no           | no                   | no                 | 0
            49.8312         | -64.2105         | 49.8312  | -64.2105  | no           | no                   | no                 | 4

            decimalLatitude | latitude | longitude | is_in_region | south_is_in_region | km_to_land | nearest_latitude | nearest_longitude
            33.9            | 33.9     | 151.2     | no           | yes                | 0          |                  |
            44.2            | 44.2     | -63.2     | no           | no                 | 2.01       |                  |
            44.2            | 44.2     | -63.2     | no           | no                 | 370        |                  |
            48.9045         | 48.9045  | -34.3712  | no           | no                 | 510        | 45.9045          |
            45.9045         | 45.9045  | -34.3712  | no           | no                 | 510        |                  | -64.3712
        """,  # noqa: E501
    ),
)
