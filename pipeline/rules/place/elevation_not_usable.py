"""An elevation that is no number of metres on this earth."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(cells: pd.Series) -> pd.Series:
    metres = pd.to_numeric(cells, errors="coerce")
    return (cells != "") & ~metres.between(-430, 8850)


RULE = Rule(
    title="An elevation that we cannot use",
    severity="please-check",
    scope="cell",
    asks="tagger",
    fields=("minimumElevationInMeters",),
    withholds=("minimumElevationInMeters",),
    message='The elevation in row {row} is "{seen}", and no land lies so low or so high in metres, so we keep it out of'
    " the published record for now. What was it in metres? An empty cell is fine too.",
    why="an elevation tells which weather a butterfly met",
    source="the shore of the Dead Sea lies some 430 m below the sea, the highest summit 8,849 m above it (from memory)",
    examples=Examples(
        finds="""
            minimumElevationInMeters
            12000
            -900
            up the hill
        """,
        leaves="""
            minimumElevationInMeters
            12
            3200.5
            ""
        """,
        near_misses="""
            minimumElevationInMeters
            -430
            8850
        """,
    ),
)
