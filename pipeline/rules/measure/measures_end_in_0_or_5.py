"""A sheet of twenty or more forewings most of which end in 0 or 5."""

import pandas as pd

from pipeline.rule import Examples, Rule

ENOUGH = 20
MOST = 0.6


def finds(rows: pd.DataFrame) -> pd.Series:
    """Marks the first measured row of each such sheet: it is said once."""
    is_measured = rows["millimetres"].notna()
    is_round = rows["millimetres"] % 5 == 0
    measured = is_measured.astype("int64").groupby(rows["table_id"])
    rounded = is_round.astype("int64").groupby(rows["table_id"]).transform("sum")
    number = measured.transform("sum")
    is_first = is_measured & (measured.cumsum() == 1)
    return is_first & (number >= ENOUGH) & (rounded > MOST * number)


RULE = Rule(
    title="Forewings that end in 0 or 5",
    severity="for-information",
    scope="sheet",
    asks="tagger",
    fields=("forewingLength",),
    looked_up=("millimetres",),
    message="Most forewings of this sheet end in 0 or 5 mm, where chance would give one in five. Measuring"
    " to the nearest millimetre helps to see small differences; nothing needs to be changed.",
    why="rounded lengths hide the small differences between butterflies",
    source="our proposal: more than 60 % of 20 or more; by chance, with one in five, less than once in 50,000 sheets",
    examples=Examples(
        finds="""
            forewingLength | millimetres | found
                           |             | no
            50             | 50          | yes
                           |             | no
            50             | 50          | no
            50             | 50          | no
            50             | 50          | no
            50             | 50          | no
            45             | 45          | no
            45             | 45          | no
            45             | 45          | no
            55             | 55          | no
            55             | 55          | no
            55             | 55          | no
            55             | 55          | no
            55             | 55          | no
            48             | 48          | no
            49             | 49          | no
            51             | 51          | no
            52             | 52          | no
            53             | 53          | no
            47             | 47          | no
            54             | 54          | no
        """,
        leaves="""
            forewingLength | millimetres
            48             | 48
            51             | 51
            50             | 50
            52             | 52
        """,
        near_misses="""
            forewingLength | millimetres
            50             | 50
            50             | 50
            50             | 50
            50             | 50
            50             | 50
            45             | 45
            45             | 45
            45             | 45
            55             | 55
            55             | 55
            55             | 55
            55             | 55
            48             | 48
            49             | 49
            51             | 51
            52             | 52
            53             | 53
            47             | 47
            54             | 54
            52             | 52

            forewingLength | millimetres
            50             | 50
            50             | 50
            50             | 50
            50             | 50
            50             | 50
            45             | 45
            45             | 45
            45             | 45
            55             | 55
            55             | 55
            55             | 55
            55             | 55
            55             | 55
            48             | 48
            49             | 49
            51             | 51
            52             | 52
            53             | 53
            47             | 47

            forewingLength | millimetres
            50             | 50
            50             | 50
            50             | 50
            50             | 50
            50             | 50
            45             | 45
            45             | 45
            45             | 45
            55             | 55
            55             | 55
            55             | 55
            55             | 55
            50.5           | 50.5
            48             | 48
            49             | 49
            51             | 51
            52             | 52
            53             | 53
            47             | 47
            54             | 54
        """,
    ),
)
