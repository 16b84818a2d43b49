"""One value as the answer to a question about rows that say different things."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(answers: pd.DataFrame) -> pd.Series:
    return (answers["outcome"] == "one value for many") & answers["is_open"]


RULE = Rule(
    title="One answer for many cells",
    severity="for-information",
    scope="answer",
    asks="tagger",
    fields=("typed",),
    looked_up=("outcome", "is_open", "number"),
    message='You answered question {number} with "{seen}", but it is about several rows with different values, and'
    " one value for all would overwrite those that may be right, so the question stays open. Please write the right"
    ' value into each row, in your own sheet or on the page "Your rows" of questions.xlsx, and send it to us.',
    why="one value in the place of many different ones loses what each row said",
    source="common practice",
    examples=Examples(
        finds="""
            number | typed        | outcome            | is_open
            3      | 14 September | one value for many | yes
        """,
        leaves="""
            number | typed | outcome | is_open
            3      | yes   | applied | no
        """,
        near_misses="""
            number | typed        | outcome            | is_open
            3      | 14 September | one value for many | no
            4      | 14 September | applied            | yes
        """,
    ),
)
