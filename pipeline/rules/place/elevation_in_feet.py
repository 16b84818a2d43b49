"""An elevation above all land of its state that lies below it when read as feet."""

import pandas as pd

from pipeline.rule import Examples, Rule

FOOT = 0.3048  # metres, exactly
MARGIN = 50  # metres, for the highest points are known no better from memory


def finds(rows: pd.DataFrame) -> pd.Series:
    highest, metres = rows["highest_metres"] + MARGIN, rows["elevation_metres"]
    return (metres > highest) & (metres * FOOT <= highest)


def suggests(found: pd.DataFrame) -> dict[str, pd.Series]:
    metres = (found["elevation_metres"] * FOOT).round().astype("int64").astype("str")
    return {"minimumElevationInMeters": metres}


RULE = Rule(
    title="An elevation in feet",
    severity="please-check",
    scope="row",
    asks="tagger",
    fields=("minimumElevationInMeters",),
    looked_up=("elevation_metres", "highest_metres"),
    withholds=("minimumElevationInMeters",),
    message='The elevation in row {row} is "{seen}", and the highest land of that state or province lies at about'
    " {highest_metres} m, so we keep it out of the published record for now. Was it in feet? Then it is"
    " {suggestion} m.",
    unsuggested='The elevation in row {row} is "{seen}", and the highest land of that state or province lies at about'
    " {highest_metres} m, so we keep it out of the published record for now. What was it in metres?",
    why="maps and receivers in North America often say feet",
    source="the international foot is 0.3048 m; heights of the highest land of each state or province, from memory",
    examples=Examples(
        finds="""
            minimumElevationInMeters | elevation_metres | highest_metres | suggests minimumElevationInMeters
            1250                     | 1250             | 536            | 381
            587                      | 587              | 536            | 179
        """,
        leaves="""
            minimumElevationInMeters | elevation_metres | highest_metres
            120                      | 120              | 536
                                     |                  |
            1250                     | 1250             |
        """,
        near_misses="""
            minimumElevationInMeters | elevation_metres | highest_metres
            586                      | 586              | 536
            1923                     | 1923             | 536
        """,
    ),
)
