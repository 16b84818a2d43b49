"""A word that does not tell alive from dead."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(rows: pd.DataFrame) -> pd.Series:
    return (rows["vitality_doubt"] != "") & ~rows["vitality_kind"].isin(["e", "f"])


def suggests(found: pd.DataFrame) -> dict[str, pd.Series]:
    return {"vitality": found["vitality_candidates"]}


RULE = Rule(
    title="A word for alive or dead that we do not know",
    severity="please-check",
    scope="row",
    asks="tagger",
    fields=("vitality",),
    looked_up=("vitality_doubt", "vitality_kind", "vitality_candidates"),
    withholds=("vitality",),
    by_word=True,
    message='"{seen}" in row {row} does not quite tell us whether the butterfly was alive or dead, so neither is'
    " published for now. Is it {suggestion}?",
    unsuggested='"{seen}" in row {row} does not tell us whether the butterfly was alive or dead, so neither is'
    " published for now. Which was it? If you are unsure, an empty cell is a good answer.",
    why="a dead one may have lain for weeks, and its days are counted in another way",
    source="Darwin Core, vitality",
    examples=Examples(
        finds="""
            vitality  | vitality_doubt | vitality_candidates | suggests vitality
            flattened | not-in-list    |                     |
            dying     | two-languages  |                     |
            dead?     | unsure         | dead                | dead
        """,
        leaves="""
            vitality
            alive
            dead

        """,
        near_misses="""
            vitality | vitality_doubt | vitality_kind
            #N/A     | error-cell     | e
            =A1      | formula        | f
        """,
    ),
)
