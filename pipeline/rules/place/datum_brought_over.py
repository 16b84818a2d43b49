"""A point that was given in another datum and goes out in WGS 84."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(rows: pd.DataFrame) -> pd.Series:
    return rows["datum_is_named"] & (rows["datum_operation"] != "")


RULE = Rule(
    title="Brought over from another datum",
    severity="for-information",
    scope="row",
    asks="tagger",
    fields=("geodeticDatum",),
    looked_up=("datum_is_named", "datum_operation", "datum_metres"),
    message='Row {row} gives its position in "{seen}". The point goes out in WGS 84, by the operation'
    " {datum_operation}, and its radius grows by {datum_metres} m. Your numbers are kept beside it.",
    why="a portal shows every point in WGS 84, where the same numbers would lie elsewhere",
    source="EPSG dataset",
    examples=Examples(
        finds="""
            geodeticDatum | datum_is_named | datum_operation      | datum_metres
            NAD27         | yes            | NAD27 to WGS 84 (10) | 20
        """,
        leaves="""
            geodeticDatum | datum_is_named | datum_operation
            WGS84         | yes            |
        """,
        near_misses="""
            geodeticDatum | datum_is_named | datum_operation
            the old one   | yes            |
                          | no             | NAD27 to WGS 84 (10)
        """,
    ),
)
