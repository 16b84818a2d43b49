"""A point 1 to 5 km outside the country that is written beside it."""

import pandas as pd

from pipeline.rule import Examples, Rule

NEAR, FAR = 1, 5  # km


def finds(rows: pd.DataFrame) -> pd.Series:
    km = rows["km_outside_country"]
    is_across = (km > NEAR) & (km <= FAR) & ~(km * 1000 <= rows["point_metres"])
    is_slip = (rows["nearest_latitude"] != "") | (rows["nearest_longitude"] != "")
    is_asked_elsewhere = ~rows["is_in_region"] | (rows["climbing_rows"] >= 4) | is_slip
    return (rows["country_at_point"] != "") & is_across & ~is_asked_elsewhere


RULE = Rule(
    title="A point just across a country's border",
    severity="please-check",
    scope="row",
    asks="tagger",
    fields=("countryCode", "decimalLatitude", "decimalLongitude"),
    looked_up=(
        "country_at_point",
        "km_outside_country",
        "point_metres",
        "is_in_region",
        "climbing_rows",
        "nearest_latitude",
        "nearest_longitude",
    ),
    message="Row {row} says {countryCode}, and its point ({decimalLatitude}, {decimalLongitude}) lies"
    " {km_outside_country} km over the border, in {country_at_point}, and the two go out side by side. Is the"
    " country right, and the point too? Our borders are drawn to about 1 km.",
    why="the word and the point are two statements about one place",
    source="our proposal: fine to 1 km and within the point's own uncertainty; boundaries are drawn to about 1 km",
    examples=Examples(
        finds="""
            countryCode | country_at_point | km_outside_country | point_metres
            CA          | US               | 1.01               | 30
            CA          | US               | 5                  | 30
            CA          | US               | 2.5                |
        """,
        leaves="""
            countryCode | country_at_point | km_outside_country
            CA          | CA               | 0
            CA          | US               | 0.08
                        | US               |
        """,
        near_misses="""
            countryCode | country_at_point | km_outside_country | point_metres | is_in_region | climbing_rows
            CA          | US               | 1                  | 30           | yes          | 0
            CA          | US               | 5.01               | 30           | yes          | 0
            CA          | US               | 2.5                | 2500         | yes          | 0
            CA          | US               | 2.5                | 30           | no           | 0
            CA          | US               | 2.5                | 30           | yes          | 4
            CA          |                  | 2.5                | 30           | yes          | 0

            countryCode | country_at_point | km_outside_country | point_metres | nearest_latitude | nearest_longitude
            CA          | US               | 2.5                | 30           | 45.21            |
            CA          | US               | 2.5                | 30           |                  | -67.29
        """,
    ),
)
