"""A point in a datum from which we know no way to WGS 84 where it lies."""

import pandas as pd

from pipeline.rule import Examples, Rule

WGS84 = "4326"


def finds(rows: pd.DataFrame) -> pd.Series:
    has_point = rows["latitude"].notna() & rows["longitude"].notna()
    is_other = (rows["datum_code"] != "") & (rows["datum_code"] != WGS84)
    return has_point & is_other & rows["datum_is_named"] & (rows["datum_operation"] == "")


RULE = Rule(
    title="A datum without a way to WGS 84 from here",
    severity="please-check",
    scope="row",
    asks="tagger",
    fields=("geodeticDatum",),
    looked_up=("latitude", "longitude", "datum_is_named", "datum_code", "datum_operation"),
    message='Row {row} gives its position in "{seen}". At that place we have no way to bring it to WGS 84, so the point'
    " goes out in that datum and with a wider radius. Is the datum right? If the numbers came from a phone it is"
    " WGS 84.",
    why="a datum is made for a part of the world, and outside it most likely another one was meant",
    source="EPSG dataset, without the grids of shifts, which PROJ would have to fetch",
    by_word=True,
    examples=Examples(
        finds="""
            geodeticDatum | latitude | longitude | datum_is_named | datum_code | datum_operation
            ATS77         | 45.9     | -64.37    | yes            | 4122       |
            NAD27         | 45.1     | 7.7       | yes            | 4267       |
        """,
        leaves="""
            geodeticDatum | latitude | longitude | datum_is_named | datum_code | datum_operation
            NAD27         | 45.9     | -64.37    | yes            | 4267       | NAD27 to WGS 84 (10)
                          | 45.9     | -64.37    | no             | 4326       |
        """,
        near_misses="""
            geodeticDatum | latitude | longitude | datum_is_named | datum_code | datum_operation
            NAD27         |          | 7.7       | yes            | 4267       |
            NAD27         | 45.1     |           | yes            | 4267       |
            NAD27         | 45.1     | 7.7       | no             | 4267       |
            WGS84         | 45.1     | 7.7       | yes            | 4326       |
            the old one   | 45.1     | 7.7       | yes            |            |
            NAD27         | 45.1     | -64.37    | yes            | 4267       | NAD27 to WGS 84 (10)
        """,
    ),
)
