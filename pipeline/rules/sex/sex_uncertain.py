"""A sex with a question mark or another word of doubt."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(rows: pd.DataFrame) -> pd.Series:
    return rows["sex_doubt"] == "unsure"


RULE = Rule(
    title="A sex that the sender doubts",
    severity="please-check",
    scope="row",
    asks="tagger",
    fields=("sex",),
    looked_up=("sex_doubt",),
    withholds=("sex",),
    message='You wrote "{seen}" for the sex in row {row}, so we keep your words and publish no sex. If you'
    " know it by now, tell us; if not, it is right as it is.",
    why="a doubt that is lost on the way turns into a fact",
    source="common practice",
    examples=Examples(
        finds="""
            sex    | sex_doubt
            F?     | unsure
            mâle ? | unsure
        """,
        leaves="""
            sex
            female

        """,
        near_misses="""
            sex | sex_doubt
            J   | not-in-list
            H   | two-languages
        """,
    ),
)
