"""A town without a point that is on no list of ours."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(rows: pd.DataFrame) -> pd.Series:
    return (rows["municipality"] != "") & (rows["towns_found"] == 0) & (rows["municipality_kind"] == "t")


RULE = Rule(
    title="A town that we do not know",
    severity="please-check",
    scope="row",
    asks="coordinator",
    fields=("municipality",),
    looked_up=("towns_found", "municipality_kind"),
    message='We do not know the town "{seen}", so rows that name it go out by its name alone, without a point. Where is'
    ' it? Give its middle, and how far the name reaches if you know, as in "45.92, -64.35, 3 km"; it goes into your'
    ' sites.csv and holds for all rows and years. "I do not know" will do too: then you are not asked again.',
    why="a point with an honest radius lets others use the record on a map",
    source="sites.csv; GeoNames, CC BY 4.0: places from 500 people on",
    decides="site",
    examples=Examples(
        finds="""
            municipality  | towns_found | municipality_kind
            Lower Nowhere | 0           | t
        """,
        leaves="""
            municipality | towns_found
            Sackville    | 1
                         |
        """,
        near_misses="""
            municipality  | towns_found | municipality_kind
            Windsor       | 2           | t
            Lower Nowhere |             | t
                          | 0           | t
            #N/A          | 0           | e
            2026-09-03    | 0           | d
        """,
    ),
)
