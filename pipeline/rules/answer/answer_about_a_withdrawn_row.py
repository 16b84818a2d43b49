"""An answer about a row that was taken out in the meantime."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(answers: pd.DataFrame) -> pd.Series:
    return answers["outcome"] == "row withdrawn"


RULE = Rule(
    title="An answer about a row that was taken out",
    severity="for-information",
    scope="answer",
    asks="coordinator",
    fields=("typed",),
    looked_up=("outcome", "number", "ref"),
    message='{person_id} answered question {number} (Ref {ref}) with "{seen}", but the row that it is about was taken'
    " out in the meantime, so nothing was changed. Unless it was taken out by a slip, there is nothing to do.",
    why="an answer to a row that is gone may mean that it went by a slip",
    source="common practice",
    examples=Examples(
        finds="""
            ref     | number | typed  | outcome       | is_open
            53Y3ZEC | 3      | SM0043 | row withdrawn | yes
            NBS3HF9 | 4      | yes    | row withdrawn | no
        """,
        leaves="""
            ref     | number | typed | outcome
            53Y3ZEC | 3      | yes   | applied
        """,
        near_misses="""
            ref     | number | typed  | outcome   | is_open
            53Y3ZEC | 3      | remove | taken out | no
            NBS3HF9 | 4      | yes    | conflict  | yes
        """,
    ),
)
