"""A point 1 to 5 km outside the state or province that is written beside it."""

import pandas as pd

from pipeline.rule import Examples, Rule

NEAR, FAR = 1, 5  # km


def finds(rows: pd.DataFrame) -> pd.Series:
    km = rows["km_outside_state"]
    is_across = (km > NEAR) & (km <= FAR) & ~(km * 1000 <= rows["point_metres"])
    is_slip = (rows["nearest_latitude"] != "") | (rows["nearest_longitude"] != "")
    # Over a country's border the country is asked about, and settles the state.
    is_asked_elsewhere = ~rows["is_in_region"] | (rows["climbing_rows"] >= 4) | (rows["km_outside_country"] > NEAR)
    return is_across & (rows["state_at_point"] != "") & ~is_asked_elsewhere & ~is_slip


def suggests(found: pd.DataFrame) -> dict[str, pd.Series]:
    return {"stateProvince": found["state_surely_at_point"]}


RULE = Rule(
    title="A point just across a state's border",
    severity="please-check",
    scope="row",
    asks="tagger",
    fields=("stateProvince", "decimalLatitude", "decimalLongitude"),
    looked_up=(
        "state_at_point",
        "state_surely_at_point",
        "km_outside_state",
        "km_outside_country",
        "point_metres",
        "is_in_region",
        "climbing_rows",
        "nearest_latitude",
        "nearest_longitude",
    ),
    message="Row {row} says {stateProvince}, and its point ({decimalLatitude}, {decimalLongitude}) lies"
    " {km_outside_state} km over the border, in {state_at_point}, and the two go out side by side. Was it"
    " {suggestion}? If both are right, tell us so: our borders are drawn to about 1 km.",
    unsuggested="Row {row} says {stateProvince}, and its point ({decimalLatitude}, {decimalLongitude}) lies"
    " {km_outside_state} km over the border, in {state_at_point}, and the two go out side by side. Which of the two"
    " is right? If both are, tell us so: our borders are drawn to about 1 km.",
    why="the word and the point are two statements about one place",
    source="our proposal: fine to 1 km and within the point's own uncertainty; boundaries are drawn to about 1 km",
    examples=Examples(
        finds="""
            stateProvince | state_at_point  | state_surely_at_point | km_outside_state | point_metres | suggests stateProvince
            Queensland    | New South Wales | New South Wales       | 3.6              | 30           | New South Wales
            Queensland    | New South Wales |                       | 1.01             | 30           |
            Queensland    | New South Wales |                       | 5                |              |
        """,  # noqa: E501
        leaves="""
            stateProvince | state_at_point | km_outside_state
            New Brunswick | New Brunswick  | 0
            New Brunswick | Maine          | 0.08
            Nova Scotia   |                |
        """,
        near_misses="""
            stateProvince | state_at_point  | km_outside_state | point_metres | is_in_region | climbing_rows
            Queensland    | New South Wales | 1                | 30           | yes          | 0
            Queensland    | New South Wales | 5.01             | 30           | yes          | 0
            Queensland    | New South Wales | 3.6              | 3600         | yes          | 0
            Queensland    | New South Wales | 3.6              | 30           | no           | 0
            Queensland    | New South Wales | 3.6              | 30           | yes          | 4
            Queensland    |                 | 3.6              | 30           | yes          | 0

            stateProvince | state_at_point | km_outside_state | km_outside_country | nearest_latitude | nearest_longitude
            New Brunswick | Maine          | 3.6              | 1.01               |                  |
            New Brunswick | Nova Scotia    | 3.6              | 0                  | 45.86            |
            New Brunswick | Nova Scotia    | 3.6              | 0                  |                  | -64.3
        """,  # noqa: E501
    ),
)
