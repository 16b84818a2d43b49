"""A sheet of ten or more releases that all have the same sex."""

import pandas as pd

from pipeline.rule import Examples, Rule

ENOUGH = 10


def finds(rows: pd.DataFrame) -> pd.Series:
    """Marks the first row of each such sheet: it is said once."""
    is_noted = (rows["recordKind"] == "release") & rows["sex"].isin(["female", "male"])
    noted = is_noted.astype("int64").groupby(rows["table_id"])
    males = (is_noted & (rows["sex"] == "male")).astype("int64").groupby(rows["table_id"]).transform("sum")
    number = noted.transform("sum")
    is_first = is_noted & (noted.cumsum() == 1)
    return is_first & (number >= ENOUGH) & ((males == 0) | (males == number))


RULE = Rule(
    title="All of one sex",
    severity="for-information",
    scope="sheet",
    asks="tagger",
    fields=("sex",),
    message="All butterflies of this sheet with a sex are {sex}, which chance alone would seldom do with"
    " ten or more. That can well be so, and no answer is needed; a male monarch has a dark spot on a vein"
    " of each hindwing.",
    why="under equal shares ten of one sex come about once in 500 sheets",
    source="our proposal, ten or more; real shares differ from place to place (Davis & Rendon-Salinas"
    " 2010, Biol. Lett. 6:45-47)",
    examples=Examples(
        finds="""
            sex    | found
                   | no
            female | yes
            female | no
            female | no
            female | no
            female | no
            female | no
            female | no
            female | no
            female | no
            female | no

            sex    | recordKind | found
            male   | find       | no
            female | release    | yes
                   | release    | no
            female | release    | no
            female | release    | no
            female | release    | no
            female | release    | no
            female | release    | no
            female | release    | no
            female | release    | no
            female | release    | no
            female | release    | no

            table_id | sex    | found
            1        | male   | yes
            1        | male   | no
            1        | male   | no
            1        | male   | no
            1        | male   | no
            2        | female | no
            1        | male   | no
            1        | male   | no
            1        | male   | no
            1        | male   | no
            1        | male   | no
            1        | male   | no
        """,
        leaves="""
            sex
            female
            male
            female
            female
        """,
        near_misses="""
            sex
            female
            female
            female
            female
            female
            female
            female
            female
            female

            sex
            female
            female
            female
            female
            female
            female
            female
            female
            female
            male

            sex    | recordKind
            female | release
            female | release
            female | release
            female | release
            female | release
            female | release
            female | release
            female | release
            female | release
            female | find
        """,
    ),
)
