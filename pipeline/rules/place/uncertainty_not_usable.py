"""A stated accuracy that is not a number of metres from 1 to half round the Earth."""

import pandas as pd

from pipeline.rule import Examples, Rule

FARTHEST = 20_037_509  # m, half the Earth's circumference


def finds(rows: pd.DataFrame) -> pd.Series:
    is_written = rows["coordinateUncertaintyInMeters"] != ""
    is_damaged = rows["coordinateUncertaintyInMeters_kind"] == "e"
    return is_written & ~is_damaged & ~rows["uncertainty_metres"].between(1, FARTHEST)


RULE = Rule(
    title="An accuracy that cannot be used",
    severity="for-information",
    scope="row",
    asks="tagger",
    fields=("coordinateUncertaintyInMeters",),
    looked_up=("uncertainty_metres", "coordinateUncertaintyInMeters_kind"),
    message='"{seen}" in row {row} is not an accuracy that a portal takes (a number of metres, 1 or more),'
    " so we worked it out from the decimals of the position instead. There is nothing to do.",
    why="an accuracy of nothing would claim that the point is exact",
    source="Darwin Core, coordinateUncertaintyInMeters; Georeferencing Best Practices, Chapman & Wieczorek 2020",
    examples=Examples(
        finds="""
            coordinateUncertaintyInMeters | uncertainty_metres
            0                             | 0
            -5                            | -5
            0.9                           | 0.9
            20037510                      | 20037510
            good                          |
        """,
        leaves="""
            coordinateUncertaintyInMeters | uncertainty_metres
            10                            | 10
                                          |
        """,
        near_misses="""
            coordinateUncertaintyInMeters | uncertainty_metres | coordinateUncertaintyInMeters_kind
            1                             | 1                  | n
            20037509                      | 20037509           | n
            #N/A                          |                    | e
        """,
    ),
)
