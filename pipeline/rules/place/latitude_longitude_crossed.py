"""A point outside the region that lies inside with latitude and longitude exchanged."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(rows: pd.DataFrame) -> pd.Series:
    has_point = rows["latitude"].notna() & rows["longitude"].notna()
    is_read_otherwise = rows["minus_is_in_region"] | rows["south_is_in_region"]
    return has_point & ~rows["is_in_region"] & rows["crossed_is_in_region"] & ~is_read_otherwise


def suggests(found: pd.DataFrame) -> dict[str, pd.Series]:
    return {"decimalLatitude": found["decimalLongitude"], "decimalLongitude": found["decimalLatitude"]}


RULE = Rule(
    title="Latitude and longitude crossed",
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
    ),
    message="The point in row {row} ({decimalLatitude}, {decimalLongitude}) lies far outside the countries"
    " of our programme, and with latitude and longitude exchanged ({decimalLongitude}, {decimalLatitude})"
    " it lies inside. Shall we exchange them?",
    why="the two numbers are easily typed into each other's column",
    source="common practice; the programme's settings",
    examples=Examples(
        finds="""
            decimalLatitude | decimalLongitude | latitude | longitude | is_in_region | crossed_is_in_region | suggests decimalLatitude | suggests decimalLongitude
            -64.2105        | 45.8312          | -64.2105 | 45.8312   | no           | yes                  | 45.8312                  | -64.2105
            -98.51          | 19.62            | -98.51   | 19.62     | no           | yes                  | 19.62                    | -98.51
        """,  # noqa: E501
        leaves="""
            decimalLatitude | decimalLongitude | latitude | longitude | is_in_region | crossed_is_in_region
            45.8312         | -64.2105         | 45.8312  | -64.2105  | yes          | no
                            |                  |          |           | no           | no
        """,
        near_misses="""
            decimalLatitude | decimalLongitude | latitude | longitude | is_in_region | crossed_is_in_region | minus_is_in_region
            45.8312         | -64.2105         | 45.8312  | -64.2105  | yes          | yes                  | no
            51.5            | 7.2              | 51.5     | 7.2       | no           | no                   | no
            40.1            | 50.2             | 40.1     | 50.2      | no           | yes                  | yes
            -64.2105        | by the bridge    | -64.2105 |           | no           | yes                  | no
            by the bridge   | 45.8312          |          | 45.8312   | no           | yes                  | no

            decimalLatitude | decimalLongitude | latitude | longitude | is_in_region | crossed_is_in_region | south_is_in_region
            40.1            | 50.2             | 40.1     | 50.2      | no           | yes                  | yes
        """,  # noqa: E501
    ),
)
