"""A word for the sex that means one thing in one language and the other in another."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(rows: pd.DataFrame) -> pd.Series:
    return rows["sex_doubt"] == "two-languages"


RULE = Rule(
    title="A word for the sex with two meanings",
    severity="please-check",
    scope="row",
    asks="tagger",
    fields=("sex",),
    looked_up=("sex_doubt",),
    withholds=("sex",),
    by_word=True,
    message='"{seen}" in row {row} can mean either sex: H is hembra, female, in Spanish and homme, male,'
    " in French, and numbers are used both ways. Until we know, no sex is published. Is it male or female?",
    why="the same letter stands for opposite sexes in two of our languages",
    source="common practice",
    examples=Examples(
        finds="""
            sex | sex_doubt
            H   | two-languages
            1   | two-languages
        """,
        leaves="""
            sex
            male

        """,
        near_misses="""
            sex | sex_doubt
            H?  | unsure
            J   | not-in-list
        """,
    ),
)
