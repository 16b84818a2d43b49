"""A point outside the region that lies inside with a minus before the latitude."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(rows: pd.DataFrame) -> pd.Series:
    has_point = (rows["latitude"] > 0) & rows["longitude"].notna()
    is_explained = rows["crossed_is_in_region"] | rows["minus_is_in_region"]
    return has_point & ~rows["is_in_region"] & rows["south_is_in_region"] & ~is_explained


def suggests(found: pd.DataFrame) -> dict[str, pd.Series]:
    return {"decimalLatitude": "-" + found["decimalLatitude"].str.removeprefix("+")}


RULE = Rule(
    title="A minus before the latitude missing",
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
    message="The point in row {row} ({decimalLatitude}, {decimalLongitude}) lies north of the equator, outside the"
    " countries of our programme, and with a minus before the latitude ({suggestion}) it lies inside. Shall we add it?",
    unsuggested="The point in row {row} ({decimalLatitude}, {decimalLongitude}) lies north of the equator, outside the"
    " countries of our programme, and with a minus before the latitude it lies inside. Where was it?",
    why="latitudes south of the equator carry a minus, or the letter S, and many receivers do not show it",
    source="ISO 6709; the programme's settings",
    examples=Examples(
        finds="""
            decimalLatitude | decimalLongitude | latitude | longitude | is_in_region | south_is_in_region | suggests decimalLatitude
            33.8688         | 151.2093         | 33.8688  | 151.2093  | no           | yes                | -33.8688
            +33.90          | 151.2093         | 33.9     | 151.2093  | no           | yes                | -33.90
        """,  # noqa: E501
        leaves="""
            decimalLatitude | decimalLongitude | latitude | longitude | is_in_region | south_is_in_region
            -33.8688        | 151.2093         | -33.8688 | 151.2093  | yes          | no
                            |                  |          |           | no           | no
        """,
        near_misses="""
            decimalLatitude | latitude | longitude | is_in_region | south_is_in_region | crossed_is_in_region | minus_is_in_region
            33.8688         | 33.8688  | 151.2093  | yes          | yes                | no                   | no
            33.8688         | 33.8688  | 151.2093  | no           | no                 | no                   | no
            33.8688         | 33.8688  | 151.2093  | no           | yes                | yes                  | no
            33.8688         | 33.8688  | 151.2093  | no           | yes                | no                   | yes
            0               | 0        | 151.2093  | no           | yes                | no                   | no
            33.8688         | 33.8688  |           | no           | yes                | no                   | no
        """,  # noqa: E501
    ),
)
