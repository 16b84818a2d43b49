"""An answer of which we cannot tell what was asked."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(answers: pd.DataFrame) -> pd.Series:
    return answers["outcome"] == "no such question"


RULE = Rule(
    title="An answer without a question",
    severity="please-check",
    scope="answer",
    asks="coordinator",
    fields=("typed",),
    looked_up=("outcome", "ref"),
    message='Line {row} of "{file}" ({person_id}) says "{seen}", but its Ref "{ref}" is lost, damaged or none of'
    " ours, and nothing else on the line tells which question it answers, so nothing was changed. If you know which"
    " one is meant, please write the answer into your own questions.xlsx, and here that it is right as it is.",
    why="an answer put to the wrong question would change the wrong butterfly",
    source="common practice",
    examples=Examples(
        finds="""
            ref     | number | typed        | outcome          | is_open
            53Y3ZE  | 0      | SM0043       | no such question | no
            ?       | 0      | yes          | no such question | no
            ""      | 0      | 14 September | no such question | no
        """,
        leaves="""
            ref     | number | typed | outcome
            53Y3ZEC | 3      | yes   | applied
        """,
        near_misses="""
            ref     | number | typed | outcome
            53Y3ZEC | 3      | yes   | somebody else's
            53Y3ZEC | 3      | hm    | not read
            ?       | 0      | ""    | left open
        """,
    ),
)
