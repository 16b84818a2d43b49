"""A latitude beyond 90 degrees or a longitude beyond 180."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(rows: pd.DataFrame) -> pd.Series:
    is_beyond = _latitude_is_beyond(rows) | (rows["longitude"].abs() > 180)
    is_beyond |= rows["decimalLongitude_doubt"] == "off-the-globe"
    return is_beyond & ~rows["crossed_is_in_region"]


def _latitude_is_beyond(rows: pd.DataFrame) -> pd.Series:
    return (rows["latitude"].abs() > 90) | (rows["decimalLatitude_doubt"] == "off-the-globe")


def stands_on(found: pd.DataFrame) -> pd.Series:
    """The longitude only where the latitude lies on the globe."""
    latitude = pd.Series("decimalLatitude", index=found.index, dtype="str")
    return latitude.where(_latitude_is_beyond(found), "decimalLongitude")


RULE = Rule(
    title="A position off the globe",
    severity="must-answer",
    scope="row",
    asks="tagger",
    fields=("decimalLatitude", "decimalLongitude"),
    looked_up=(
        "latitude",
        "longitude",
        "decimalLatitude_doubt",
        "decimalLongitude_doubt",
        "crossed_is_in_region",
    ),
    message="The position in row {row} ({decimalLatitude}, {decimalLongitude}) lies nowhere on Earth: a"
    " latitude runs from -90 to 90 and a longitude from -180 to 180. Perhaps a decimal point was lost."
    " Where was it?",
    why="there is no such place",
    source="Darwin Core, decimalLatitude and decimalLongitude",
    waivable=False,
    examples=Examples(
        finds="""
            decimalLatitude | latitude | decimalLatitude_doubt | decimalLongitude | longitude | decimalLongitude_doubt
            90.01           | 90.01    | off-the-globe         | -64.21           | -64.21    |
            4583            |          | off-the-globe         | -64.21           | -64.21    |
            45.83           | 45.83    |                       | -180.01          | -180.01   | off-the-globe
            45.83           | 45.83    |                       | -6421            |           | off-the-globe
            -91             | -91      |                       |                  |           |
            45.83           | 45.83    |                       | 264.21           | 264.21    |
        """,
        leaves="""
            decimalLatitude | latitude | decimalLongitude | longitude
            45.83           | 45.83    | -64.21           | -64.21
                            |          |                  |
        """,
        near_misses="""
            decimalLatitude | latitude | decimalLatitude_doubt | decimalLongitude | longitude | crossed_is_in_region
            90              | 90       |                       | 180              | 180       | no
            -90             | -90      |                       | -180             | -180      | no
            -98.51          | -98.51   | off-the-globe         | 19.62            | 19.62     | yes
        """,
    ),
)
