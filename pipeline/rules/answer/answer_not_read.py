"""An answer from which we cannot tell what to write."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(answers: pd.DataFrame) -> pd.Series:
    return (answers["outcome"] == "not read") & answers["is_open"] & (answers["number"] > 0)


RULE = Rule(
    title="An answer that we could not read",
    severity="for-information",
    scope="answer",
    asks="tagger",
    fields=("typed",),
    looked_up=("outcome", "is_open", "number"),
    message='We read "{seen}" in your answer to question {number} and could not tell what to write, so the question'
    ' stays open. Please pick one of the four answers, or reply in words, for instance "{number} yes", "{number}'
    ' right as it is", or "{number}" and the right value.',
    why="a guess at what was meant could put a wrong value in your name",
    source="common practice",
    examples=Examples(
        finds="""
            number | typed                        | outcome  | is_open
            3      | see my other mail            | not read | yes
            4      | yes, but not the first       | not read | yes
        """,
        leaves="""
            number | typed | outcome | is_open
            3      | yes   | applied | no
        """,
        near_misses="""
            number | typed             | outcome   | is_open
            3      | see my other mail | not read  | no
            4      | SM0043 or SM0044  | differs   | yes
            5      | ""                | left open | yes
            0      | gave it to Maud   | not read  | yes
        """,
    ),
)
