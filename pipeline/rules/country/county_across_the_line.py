"""A point 1 to 50 km outside the county of the United States that is written beside it."""

import pandas as pd

from pipeline.rule import Examples, Rule

NEAR, FAR = 1, 50  # km


def finds(rows: pd.DataFrame) -> pd.Series:
    km = rows["km_outside_county"]
    is_across = (km > NEAR) & (km <= FAR) & ~(km * 1000 <= rows["point_metres"])
    # A doubt about the state or the country settles the county.
    is_over = (rows["km_outside_state"] > NEAR) | (rows["km_outside_country"] > NEAR)
    is_slip = (rows["nearest_latitude"] != "") | (rows["nearest_longitude"] != "")
    is_wet = (rows["km_to_land"] > 2) & ~(rows["km_to_land"] * 1000 <= rows["point_metres"])
    is_asked_elsewhere = ~rows["is_in_region"] | (rows["climbing_rows"] >= 4) | is_slip | is_wet
    return is_across & ~is_over & ~is_asked_elsewhere


def suggests(found: pd.DataFrame) -> dict[str, pd.Series]:
    return {"county": found["county_surely_at_point"]}


RULE = Rule(
    title="A point in another county",
    severity="please-check",
    scope="row",
    asks="tagger",
    fields=("county", "decimalLatitude", "decimalLongitude"),
    looked_up=(
        "county_surely_at_point",
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
    withholds=("county",),
    message='Row {row} says "{county}" for the county, and its point ({decimalLatitude}, {decimalLongitude}) lies'
    " {km_outside_county} km outside it, so no county is published from this row for now. Was it {suggestion}?",
    unsuggested='Row {row} says "{county}" for the county, and its point ({decimalLatitude}, {decimalLongitude}) lies'
    " {km_outside_county} km outside it, so no county is published from this row for now. Which county was it?",
    why="the word and the point are two statements about one place",
    source="US Census Bureau, cartographic boundaries of 2017; our proposal: fine to 1 km and within the point's own"
    " uncertainty",
    examples=Examples(
        finds="""
            county     | county_surely_at_point | km_outside_county | point_metres | suggests county
            Cumberland | York                   | 12.3              | 30           | York
            Cumberland |                        | 1.01              | 30           |
            Cumberland |                        | 50                |              |
        """,
        leaves="""
            county     | km_outside_county
            Cumberland | 0
            Cumberland |
        """,
        near_misses="""
            county     | km_outside_county | point_metres | is_in_region | climbing_rows | km_to_land
            Cumberland | 1                 | 30           | yes          | 0             | 0
            Cumberland | 50.1              | 30           | yes          | 0             | 0
            Cumberland | 12.3              | 12300        | yes          | 0             | 0
            Cumberland | 12.3              | 30           | no           | 0             | 0
            Cumberland | 12.3              | 30           | yes          | 4             | 0
            Cumberland | 12.3              | 30           | yes          | 0             | 2.1

            county     | km_outside_county | km_outside_state | km_outside_country | nearest_latitude | nearest_longitude
            Cumberland | 12.3              | 1.01             | 0                  |                  |
            Cumberland | 12.3              | 0                | 1.01               |                  |
            Cumberland | 12.3              | 0                | 0                  | 43.7             |
            Cumberland | 12.3              | 0                | 0                  |                  | -70.3
        """,  # noqa: E501
    ),
)
