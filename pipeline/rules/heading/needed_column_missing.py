"""A table without a column that every row needs."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(x: pd.DataFrame) -> pd.Series:
    # A heading that may be the missing one is asked about by itself.
    guessed = x["table_id"].astype(str) + " " + x["guess"]
    wanted = x["table_id"].astype(str) + " " + x["field"]
    return x["is_missing"] & ~wanted.isin(guessed)


RULE = Rule(
    title="A needed column is missing",
    severity="must-answer",
    scope="heading",
    asks="tagger",
    fields=("heading",),
    looked_up=("field", "guess", "is_missing"),
    message="Your sheet has no column for {field}, and we cannot use its rows without it. Please tell us"
    ' what to put, or add the column and send the sheet again. If you did not record it, "not recorded" is a'
    " good answer.",
    decides="given",
    why="a release is told by its tag, species, day and place",
    source="common practice; Darwin Core, list of terms of 2026-05-26",
    examples=Examples(
        finds="""
            heading | field     | is_missing | is_needed | some_needed_is_missing | table_id | guess   | found
            ""      | eventDate | yes        | yes       | yes                    | 1        |         | yes
            Tagg n  |           | no         | yes       | yes                    | 1        | tagCode | no
            ""      | tagCode   | yes        | yes       | yes                    | 2        |         | yes
        """,
        leaves="""
            heading | field   | is_missing | is_needed
            Tag     | tagCode | no         | yes
        """,
        near_misses="""
            heading | field   | is_missing | is_needed | some_needed_is_missing | table_id | guess
            ""      | tagCode | yes        | yes       | yes                    | 1        |
            Tagg n  |         | no         | yes       | yes                    | 1        | tagCode
            Day     | eventDate | no       | yes       | yes                    | 1        |
        """,
    ),
)
