"""A point out in a lake or at sea."""

import pandas as pd

from pipeline.rule import Examples, Rule

FAR = 2  # km
OF_A_COUNTRY = 370  # km, 200 nautical miles; beyond, the point lies outside every country


def finds(rows: pd.DataFrame) -> pd.Series:
    km = rows["km_to_land"]
    is_out = (km > FAR) & (km <= OF_A_COUNTRY) & ~(km * 1000 <= rows["point_metres"])
    other_readings = rows[["crossed_is_in_region", "minus_is_in_region", "south_is_in_region"]].sum(axis=1)
    is_explained = ~rows["is_in_region"] & (other_readings == 1)
    is_slip = (rows["nearest_latitude"] != "") | (rows["nearest_longitude"] != "")
    is_at_zero = (rows["latitude"] == 0) & (rows["longitude"] == 0)
    return is_out & ~is_explained & ~is_slip & ~is_at_zero & ~(rows["climbing_rows"] >= 4)


RULE = Rule(
    title="A point on open water",
    severity="must-answer",
    scope="row",
    asks="tagger",
    fields=("decimalLatitude", "decimalLongitude"),
    looked_up=(
        "latitude",
        "longitude",
        "km_to_land",
        "point_metres",
        "is_in_region",
        "crossed_is_in_region",
        "minus_is_in_region",
        "south_is_in_region",
        "climbing_rows",
        "nearest_latitude",
        "nearest_longitude",
    ),
    message="The point in row {row} ({decimalLatitude}, {decimalLongitude}) lies on open water, {km_to_land} km from"
    " the nearest land that we know of (we ask from 2 km on), and one digit can move a point that far. Was it on a"
    " boat, or on a small island? Then it is right as it is; tell us so. Else, what should the numbers be?",
    why="butterflies are seldom let go, or found, out on the water",
    source="Natural Earth 1:10m; US Census Bureau; 2 km, for harbours and small islands are missing there, is our"
    " proposal",
    examples=Examples(
        finds="""
            decimalLatitude | decimalLongitude | latitude | longitude | km_to_land | point_metres | is_in_region
            41.9            | -82.001          | 41.9     | -82.001   | 37.6       | 1200         | yes
            44.2            | -63.2            | 44.2     | -63.2     | 2.01       |              | no
            44.2            | -63.2            | 44.2     | -63.2     | 370        | 30           | no

            decimalLatitude | latitude | longitude | km_to_land | is_in_region | crossed_is_in_region | minus_is_in_region
            44.2            | 44.2     | -63.2     | 20         | no           | yes                  | yes
            44.2            | 44.2     | -63.2     | 20         | yes          | yes                  | no
            0               | 0        | 9.2       | 20         | no           | no                   | no
            44.2            | 44.2     | 0         | 20         | no           | no                   | no
        """,  # noqa: E501
        leaves="""
            decimalLatitude | decimalLongitude | km_to_land
            45.8312         | -64.2105         | 0
                            |                  |
        """,
        near_misses="""
            decimalLatitude | km_to_land | point_metres | climbing_rows | nearest_latitude | nearest_longitude
            44.2            | 2          | 30           | 0             |                  |
            44.2            | 370.1      | 30           | 0             |                  |
            44.2            | 20         | 20000        | 0             |                  |
            44.2            | 20         | 30           | 4             |                  |
            44.2            | 20         | 30           | 0             | 45.2             |
            44.2            | 20         | 30           | 0             |                  | -64.2

            decimalLatitude | latitude | longitude | km_to_land | is_in_region | crossed_is_in_region | minus_is_in_region | south_is_in_region
            0               | 0        | 0         | 20         | no           | no                   | no                 | no
            44.2            | 44.2     | 63.2      | 20         | no           | yes                  | no                 | no
            44.2            | 44.2     | 63.2      | 20         | no           | no                   | yes                | no
            33.9            | 33.9     | 151.2     | 20         | no           | no                   | no                 | yes
        """,  # noqa: E501
    ),
)
