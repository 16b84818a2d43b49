"""A point more than 50 km outside the county of the United States that is written beside it."""

import pandas as pd

from pipeline.rule import Examples, Rule

FAR, OVER = 50, 5  # km


def finds(rows: pd.DataFrame) -> pd.Series:
    km = rows["km_outside_county"]
    is_far = (km > FAR) & ~(km * 1000 <= rows["point_metres"])
    is_over = (rows["km_outside_state"] > OVER) | (rows["km_outside_country"] > OVER)
    is_slip = (rows["nearest_latitude"] != "") | (rows["nearest_longitude"] != "")
    is_wet = (rows["km_to_land"] > 2) & ~(rows["km_to_land"] * 1000 <= rows["point_metres"])
    is_asked_elsewhere = ~rows["is_in_region"] | (rows["climbing_rows"] >= 4) | is_slip | is_wet
    return is_far & ~is_over & ~is_asked_elsewhere


RULE = Rule(
    title="A point far from its county",
    severity="must-answer",
    scope="row",
    asks="tagger",
    fields=("decimalLatitude", "decimalLongitude", "county"),
    looked_up=(
        "km_outside_county",
        "km_outside_state",
        "km_outside_country",
        "km_to_land",
        "point_metres",
        "is_in_region",
        "climbing_rows",
        "nearest_latitude",
        "nearest_longitude",
    ),
    message='Row {row} says "{county}" for the county, and its point ({decimalLatitude}, {decimalLongitude}) lies'
    " {km_outside_county} km away from there, so a find could not be measured from it (we ask from 50 km on). Which of"
    " the two is right?",
    why="the word and the point are two statements about one place",
    source="US Census Bureau, cartographic boundaries of 2017; 50 km, more than a county across in most states, is our"
    " proposal",
    examples=Examples(
        finds="""
            county     | km_outside_county | point_metres | km_outside_state | km_outside_country
            Cumberland | 50.1              | 30           | 0                | 0
            Cumberland | 210               |              | 5                |
            Cumberland | 210               |              |                  | 5
        """,
        leaves="""
            county     | km_outside_county
            Cumberland | 0
            Cumberland |
        """,
        near_misses="""
            county     | km_outside_county | point_metres | is_in_region | climbing_rows | km_to_land
            Cumberland | 50                | 30           | yes          | 0             | 0
            Cumberland | 50.1              | 50100        | yes          | 0             | 0
            Cumberland | 210               | 30           | no           | 0             | 0
            Cumberland | 210               | 30           | yes          | 4             | 0
            Cumberland | 210               | 30           | yes          | 0             | 2.1

            county     | km_outside_county | km_outside_state | km_outside_country | nearest_latitude | nearest_longitude
            Cumberland | 210               | 5.01             | 0                  |                  |
            Cumberland | 210               | 0                | 5.01               |                  |
            Cumberland | 210               | 0                | 0                  | 43.7             |
            Cumberland | 210               | 0                | 0                  |                  | -70.3
        """,  # noqa: E501
    ),
)
