"""A position in whole degrees in a sheet whose other positions are finer."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(rows: pd.DataFrame) -> pd.Series:
    has_point = rows["latitude"].notna() & rows["longitude"].notna()
    is_whole = has_point & (rows["latitude_decimals"] == 0) & (rows["longitude_decimals"] == 0)
    tables = rows["table_id"]
    whole = is_whole.astype("int64").groupby(tables).transform("sum")
    points = has_point.astype("int64").groupby(tables).transform("sum")
    is_asked_elsewhere = ~rows["is_in_region"] | (rows["climbing_rows"] >= 4)
    return is_whole & (2 * whole <= points) & ~is_asked_elsewhere


RULE = Rule(
    title="Whole degrees among finer positions",
    severity="must-answer",
    scope="sheet",
    asks="tagger",
    fields=("decimalLatitude", "decimalLongitude"),
    looked_up=(
        "latitude",
        "longitude",
        "latitude_decimals",
        "longitude_decimals",
        "is_in_region",
        "climbing_rows",
    ),
    message="The position in row {row} is in whole degrees ({decimalLatitude}, {decimalLongitude}), which"
    " can be off by more than 100 km, while your other positions are finer, so the decimals may have been"
    " lost. Do you still have them? A town is fine too.",
    why="decimals that were lost move a butterfly to the corner of a square of 100 km",
    source="Georeferencing Best Practices, Chapman & Wieczorek 2020: whole degrees are uncertain by up to 157 km",
    examples=Examples(
        finds="""
            decimalLatitude | decimalLongitude | latitude | longitude | latitude_decimals | longitude_decimals | found
            45.8312         | -64.2105         | 45.8312  | -64.2105  | 4                 | 4                  | no
            45°49.9'N       | 64°12.6'W        | 45.8317  | -64.21    |                   |                    | no
            46              | -64              | 46       | -64       | 0                 | 0                  | yes
            45              | -64              | 45       | -64       | 0                 | 0                  | yes
        """,
        leaves="""
            decimalLatitude | decimalLongitude | latitude | longitude | latitude_decimals | longitude_decimals
            45              | -64              | 45       | -64       | 0                 | 0
            46              | -65              | 46       | -65       | 0                 | 0
                            |                  |          |           |                   |
        """,
        near_misses="""
            decimalLatitude | decimalLongitude | latitude | longitude | latitude_decimals | longitude_decimals
            45.8312         | -64.2105         | 45.8312  | -64.2105  | 4                 | 4
            45              | -64              | 45       | -64       | 0                 | 0
            46              | -65              | 46       | -65       | 0                 | 0

            decimalLatitude | decimalLongitude | latitude | longitude | latitude_decimals | longitude_decimals
                            | -64.2105         |          | -64.2105  |                   | 4
            45              | -64              | 45       | -64       | 0                 | 0

            table_id | decimalLatitude | decimalLongitude | latitude | longitude | latitude_decimals | longitude_decimals
            1        | 45.8312         | -64.2105         | 45.8312  | -64.2105  | 4                 | 4
            2        | 45              | -64              | 45       | -64       | 0                 | 0

            decimalLatitude | decimalLongitude | latitude | longitude | latitude_decimals | longitude_decimals | is_in_region | climbing_rows
            45.8312         | -64.2105         | 45.8312  | -64.2105  | 4                 | 4                  | yes          | 0
            45.8318         | -64.2108         | 45.8318  | -64.2108  | 4                 | 4                  | yes          | 0
            45.8318         | -64.2109         | 45.8318  | -64.2109  | 4                 | 4                  | yes          | 0
            45.8319         | -64.2109         | 45.8319  | -64.2109  | 4                 | 4                  | yes          | 0
            46              | -64.2105         | 46       | -64.2105  | 0                 | 4                  | yes          | 0
            46.8312         | -64              | 46.8312  | -64       | 4                 | 0                  | yes          | 0
            45              |                  | 45       |           | 0                 | 0                  | yes          | 0
            45              | 64               | 45       | 64        | 0                 | 0                  | no           | 0
            45              | -64              | 45       | -64       | 0                 | 0                  | yes          | 4
        """,  # noqa: E501
    ),
)
