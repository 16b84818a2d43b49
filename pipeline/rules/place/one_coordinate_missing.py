"""A latitude without a longitude, or a longitude without a latitude."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(rows: pd.DataFrame) -> pd.Series:
    has_latitude, has_longitude = rows["decimalLatitude"] != "", rows["decimalLongitude"] != ""
    is_asked_elsewhere = (rows["decimalLatitude_doubt"] != "") | (rows["decimalLongitude_doubt"] != "")
    kinds = rows["decimalLatitude_kind"] + rows["decimalLongitude_kind"]
    is_damaged = kinds.str.contains("[ef]")  # asked about by the rules on damage
    return (has_latitude != has_longitude) & ~is_asked_elsewhere & ~is_damaged


def stands_on(found: pd.DataFrame) -> pd.Series:
    """The field that is blank."""
    latitude = pd.Series("decimalLatitude", index=found.index, dtype="str")
    return latitude.where(found["decimalLatitude"] == "", "decimalLongitude")


RULE = Rule(
    title="One coordinate missing",
    severity="must-answer",
    scope="row",
    asks="tagger",
    fields=("decimalLatitude", "decimalLongitude"),
    looked_up=(
        "decimalLatitude_doubt",
        "decimalLongitude_doubt",
        "decimalLatitude_kind",
        "decimalLongitude_kind",
    ),
    message='Row {row} gives only one half of the position (latitude "{decimalLatitude}", longitude'
    ' "{decimalLongitude}"), and one number is a line round the Earth, not a point. What is the other? The'
    " name of a town is enough if you no longer know.",
    why="a point needs both of its numbers",
    source="ISO 6709",
    examples=Examples(
        finds="""
            decimalLatitude | decimalLongitude
            45.83           |
                            | -64.21
        """,
        leaves="""
            decimalLatitude | decimalLongitude
            45.83           | -64.21
                            |
        """,
        near_misses="""
            decimalLatitude | decimalLatitude_doubt | decimalLatitude_kind | decimalLongitude
            by the bridge   | not-a-number          | t                    |
            #N/A            |                       | e                    |
            =B2             |                       | f                    |

            decimalLatitude | decimalLongitude | decimalLongitude_doubt | decimalLongitude_kind
                            | by the bridge    | not-a-number           | t
                            | #N/A             |                        | e
        """,
    ),
)
