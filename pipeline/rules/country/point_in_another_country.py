"""A point more than 5 km inside another country than the one written."""

import pandas as pd

from pipeline.rule import Examples, Rule

FAR = 5  # km


def finds(rows: pd.DataFrame) -> pd.Series:
    is_far = rows["km_outside_country"] > FAR
    is_far &= ~(rows["km_outside_country"] * 1000 <= rows["point_metres"])
    is_slip = (rows["nearest_latitude"] != "") | (rows["nearest_longitude"] != "")
    is_asked_elsewhere = ~rows["is_in_region"] | (rows["climbing_rows"] >= 4) | is_slip
    return (rows["country_at_point"] != "") & is_far & ~is_asked_elsewhere


RULE = Rule(
    title="A point in another country",
    severity="must-answer",
    scope="row",
    asks="tagger",
    fields=("decimalLatitude", "decimalLongitude", "countryCode"),
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
    " {km_outside_country} km away from that country, in {country_at_point}, so a find could not be"
    " measured from it (we ask from 5 km on). Which of the two is right?",
    why="the word and the point are two statements about one place",
    source="our proposal: more than 5 km, and more than the point's own uncertainty; borders are drawn to about 1 km",
    examples=Examples(
        finds="""
            countryCode | country_at_point | km_outside_country | point_metres
            CA          | US               | 412.5              |
            CA          | US               | 5.1                | 5000
        """,
        leaves="""
            countryCode | country_at_point | km_outside_country
            CA          | CA               | 0
                        | US               |
            CA          |                  |
        """,
        near_misses="""
            countryCode | country_at_point | km_outside_country | point_metres | is_in_region | climbing_rows
            CA          | US               | 5                  |              | yes          | 0
            CA          | US               | 5.1                | 5100         | yes          | 0
            CA          | KZ               | 7300               |              | no           | 0
            CA          | US               | 412.5              |              | yes          | 4
            CA          |                  | 40                 |              | yes          | 0

            countryCode | country_at_point | km_outside_country | nearest_latitude | nearest_longitude
            CA          | US               | 412.5              | 45.86            |
            CA          | US               | 412.5              |                  | -64.3
        """,
    ),
)
