"""A word for the datum that names none that we know."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(rows: pd.DataFrame) -> pd.Series:
    has_point = rows["latitude"].notna() & rows["longitude"].notna()
    return has_point & rows["datum_is_named"] & (rows["datum_code"] == "") & (rows["geodeticDatum_kind"] != "e")


RULE = Rule(
    title="A datum that we do not know",
    severity="please-check",
    scope="row",
    asks="tagger",
    fields=("geodeticDatum",),
    looked_up=("latitude", "longitude", "datum_is_named", "datum_code", "geodeticDatum_kind"),
    withholds=("geodeticDatum",),
    message='Row {row} says that its position refers to "{seen}", and we know no datum of that name, so the point goes'
    " out with a wider radius for now. What was the device or the map set to? Phones use WGS 84; older maps of North"
    " America NAD 27.",
    why="the same numbers lie up to a hundred metres apart in two datums, and farther in some",
    source="Chapman & Wieczorek 2020, Georeferencing Best Practices; EPSG dataset",
    by_word=True,
    examples=Examples(
        finds="""
            geodeticDatum | latitude | longitude | datum_is_named | datum_code
            the old one   | 45.9     | -64.37    | yes            |
            NAD           | 45.9     | -64.37    | yes            |
        """,
        leaves="""
            geodeticDatum | latitude | longitude | datum_is_named | datum_code
            NAD27         | 45.9     | -64.37    | yes            | 4267
                          | 45.9     | -64.37    | no             | 4326
        """,
        near_misses="""
            geodeticDatum | latitude | longitude | datum_is_named | datum_code | geodeticDatum_kind
            the old one   |          | -64.37    | yes            |            | t
            the old one   | 45.9     |           | yes            |            | t
                          | 45.9     | -64.37    | no             |            | t
            WGS84         | 45.9     | -64.37    | yes            | 4326       | t
            #N/A          | 45.9     | -64.37    | yes            |            | e
        """,
    ),
)
