"""A point more than 5 km outside the state or province that is written beside it."""

import pandas as pd

from pipeline.rule import Examples, Rule

FAR = 5  # km


def finds(rows: pd.DataFrame) -> pd.Series:
    km = rows["km_outside_state"]
    is_far = (km > FAR) & ~(km * 1000 <= rows["point_metres"])
    is_slip = (rows["nearest_latitude"] != "") | (rows["nearest_longitude"] != "")
    is_wet = (rows["km_to_land"] > 2) & ~(rows["km_to_land"] * 1000 <= rows["point_metres"])
    is_asked_elsewhere = ~rows["is_in_region"] | (rows["climbing_rows"] >= 4) | is_slip | is_wet
    in_another_country = (rows["km_outside_country"] > FAR) & (rows["country_at_point"] != "")
    return is_far & ~is_asked_elsewhere & ~in_another_country


RULE = Rule(
    title="A point in another state",
    severity="must-answer",
    scope="row",
    asks="tagger",
    fields=("decimalLatitude", "decimalLongitude", "stateProvince"),
    looked_up=(
        "state_at_point",
        "km_outside_state",
        "km_outside_country",
        "country_at_point",
        "km_to_land",
        "point_metres",
        "is_in_region",
        "climbing_rows",
        "nearest_latitude",
        "nearest_longitude",
    ),
    message="Row {row} says {stateProvince}, and its point ({decimalLatitude}, {decimalLongitude}) lies"
    " {km_outside_state} km away from there ({state_at_point}), so a find could not be measured from it (we ask from"
    " 5 km on). Which of the two is right? If the name was copied down by mistake, what should it be?",
    why="the word and the point are two statements about one place",
    source="our proposal: more than 5 km, and more than the point's own uncertainty; borders are drawn to about 1 km",
    examples=Examples(
        finds="""
            stateProvince | state_at_point | km_outside_state | point_metres | km_outside_country | country_at_point
            Nova Scotia   | New Brunswick  | 5.01             | 30           | 0                  | CA
            Nova Scotia   | New Brunswick  | 212.4            |              |                    | CA
            New Brunswick | Maine          | 40               | 30           | 5                  | US
            Nova Scotia   |                | 40               | 30           | 5.01               |
        """,
        leaves="""
            stateProvince | state_at_point | km_outside_state
            New Brunswick | New Brunswick  | 0
                          |                |
        """,
        near_misses="""
            stateProvince | state_at_point | km_outside_state | point_metres | is_in_region | climbing_rows | km_to_land
            Nova Scotia   | New Brunswick  | 5                | 30           | yes          | 0             | 0
            Nova Scotia   | New Brunswick  | 5.01             | 5010         | yes          | 0             | 0
            Nova Scotia   | New Brunswick  | 40               | 30           | no           | 0             | 0
            Nova Scotia   | New Brunswick  | 40               | 30           | yes          | 4             | 0
            Nova Scotia   | New Brunswick  | 40               | 30           | yes          | 0             | 2.1

            stateProvince | state_at_point | km_outside_state | km_outside_country | country_at_point
            New Brunswick | Maine          | 40               | 5.01               | US

            stateProvince | state_at_point | km_outside_state | nearest_latitude | nearest_longitude
            Nova Scotia   | New Brunswick  | 40               | 45.86            |
            Nova Scotia   | New Brunswick  | 40               |                  | -64.3
        """,
    ),
)
