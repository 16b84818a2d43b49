"""A "right as it is" to something that cannot be right as it is."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(answers: pd.DataFrame) -> pd.Series:
    return (answers["outcome"] == "cannot be confirmed") & answers["is_open"]


RULE = Rule(
    title="An answer that needs more than a yes",
    severity="for-information",
    scope="answer",
    asks="tagger",
    fields=("typed",),
    looked_up=("outcome", "is_open", "number"),
    message='Thank you for "{seen}" to question {number}. That alone does not settle it, because the question is'
    " about something that cannot be so, such as one code on two butterflies or a day that no calendar has, and it"
    " stays open. Please look once more, and tell us the right value or that you do not know.",
    why="what cannot be so stays doubtful for everybody who reads it later, however sure we are",
    source="common practice",
    examples=Examples(
        finds="""
            number | typed          | outcome             | is_open
            3      | right as it is | cannot be confirmed | yes
        """,
        leaves="""
            number | typed          | outcome   | is_open
            3      | right as it is | confirmed | no
        """,
        near_misses="""
            number | typed          | outcome             | is_open
            3      | right as it is | cannot be confirmed | no
            4      | right as it is | noted               | yes
        """,
    ),
)
