"""A point outside the region that lies inside with a minus before the longitude."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(rows: pd.DataFrame) -> pd.Series:
    has_point = rows["latitude"].notna() & (rows["longitude"] > 0)
    is_read_otherwise = rows["crossed_is_in_region"] | rows["south_is_in_region"]
    return has_point & ~rows["is_in_region"] & rows["minus_is_in_region"] & ~is_read_otherwise


def suggests(found: pd.DataFrame) -> dict[str, pd.Series]:
    return {"decimalLongitude": "-" + found["decimalLongitude"].str.removeprefix("+")}


RULE = Rule(
    title="A minus before the longitude missing",
    severity="must-answer",
    scope="row",
    asks="tagger",
    fields=("decimalLongitude", "decimalLatitude"),
    looked_up=(
        "latitude",
        "longitude",
        "is_in_region",
        "crossed_is_in_region",
        "minus_is_in_region",
        "south_is_in_region",
    ),
    message="The point in row {row} ({decimalLatitude}, {decimalLongitude}) lies east of Greenwich,"
    " outside the countries of our programme, and with a minus before the longitude ({suggestion}) it lies"
    " inside. Shall we add it?",
    unsuggested="The point in row {row} ({decimalLatitude}, {decimalLongitude}) lies east of Greenwich,"
    " outside the countries of our programme, and with a minus before the longitude it lies inside. Where"
    " was it?",
    why="longitudes west of Greenwich carry a minus, or the letter W, and many receivers do not show it",
    source="ISO 6709; the programme's settings",
    examples=Examples(
        finds="""
            decimalLatitude | decimalLongitude | latitude | longitude | is_in_region | minus_is_in_region | suggests decimalLongitude
            45.8312         | 64.2105          | 45.8312  | 64.2105   | no           | yes                | -64.2105
            19.62           | +98.50           | 19.62    | 98.5      | no           | yes                | -98.50
        """,  # noqa: E501
        leaves="""
            decimalLatitude | decimalLongitude | latitude | longitude | is_in_region | minus_is_in_region
            45.8312         | -64.2105         | 45.8312  | -64.2105  | yes          | no
                            |                  |          |           | no           | no
        """,
        near_misses="""
            decimalLatitude | decimalLongitude | latitude | longitude | is_in_region | minus_is_in_region | crossed_is_in_region
            45.8312         | 64.2105          | 45.8312  | 64.2105   | yes          | yes                | no
            51.5            | 7.2              | 51.5     | 7.2       | no           | no                 | no
            40.1            | 50.2             | 40.1     | 50.2      | no           | yes                | yes
            5.2             | 0                | 5.2      | 0         | no           | yes                | no
            by the bridge   | 64.2105          |          | 64.2105   | no           | yes                | no

            decimalLatitude | decimalLongitude | latitude | longitude | is_in_region | minus_is_in_region | south_is_in_region
            40.1            | 50.2             | 40.1     | 50.2      | no           | yes                | yes
        """,  # noqa: E501
    ),
)
