"""A town without a point whose name several have."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(rows: pd.DataFrame) -> pd.Series:
    return (rows["municipality"] != "") & (rows["towns_found"] > 1)


RULE = Rule(
    title="Several towns of one name",
    severity="please-check",
    scope="row",
    asks="tagger",
    fields=("municipality",),
    looked_up=("towns_found", "towns_named"),
    message='There is more than one "{seen}": in {towns_named}. Row {row} goes out by the name alone until we know'
    ' which. Please write it with its province, as in "Windsor, Nova Scotia"; if the province holds several, name a'
    " larger town close by.",
    why="towns of one name lie hundreds of kilometres apart",
    source="GeoNames, CC BY 4.0",
    by_word=True,
    examples=Examples(
        finds="""
            municipality | towns_found | towns_named
            Windsor      | 3           | Nova Scotia, Ontario, Quebec
        """,
        leaves="""
            municipality | towns_found
            Sackville    | 1
                         |
        """,
        near_misses="""
            municipality  | towns_found | towns_named
            Sackville     | 1           |
            Lower Nowhere | 0           |
                          | 3           | Nova Scotia, Ontario, Quebec
        """,
    ),
)
