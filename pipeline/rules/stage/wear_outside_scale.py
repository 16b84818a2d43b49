"""Wing wear that is not on the scale from 1 to 5."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(rows: pd.DataFrame) -> pd.Series:
    is_written = (rows["wingWear"] != "") & (rows["wingWear_kind"] != "e")
    return is_written & ~rows["wear"].between(1, 5)


RULE = Rule(
    title="Wear outside the scale",
    severity="please-check",
    scope="row",
    asks="tagger",
    fields=("wingWear",),
    looked_up=("wear", "wingWear_kind"),
    withholds=("wingWear",),
    message='"{seen}" in row {row} is not on our scale of wear, on which 1 is fresh and 5 is worn out, so'
    " it cannot be held beside the others. Which number from 1 to 5 comes nearest? An empty cell is fine"
    " too.",
    why="numbers of another scale would turn fresh butterflies into worn ones",
    source="a scale from 1 to 5 as in McCord & Davis 2012, J. Res. Lepid. 45:1-8",
    examples=Examples(
        finds="""
            wingWear | wear
            6        | 6
            0        | 0
            0.9      | 0.9
            5.1      | 5.1
            tattered |
            2-3      |
        """,
        leaves="""
            wingWear | wear
            3        | 3
                     |
        """,
        near_misses="""
            wingWear | wear | wingWear_kind
            1        | 1    | n
            5        | 5    | n
            2.5      | 2.5  | n
            #N/A     |      | e
        """,
    ),
)
