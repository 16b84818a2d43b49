"""A word that does not say whether the row is a release or a find."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(rows: pd.DataFrame) -> pd.Series:
    return rows["recordKind_doubt"] != ""


RULE = Rule(
    title="Release or find?",
    severity="must-answer",
    scope="row",
    asks="tagger",
    fields=("recordKind",),
    looked_up=("recordKind_doubt",),
    message='In row {row} "{seen}" does not tell us whether you put the tag on (a release) or met a butterfly that had'
    " one already (a find), and the two are kept apart in all that follows. Which was it, release or find?",
    why="a find taken for a release gives one butterfly two beginnings",
    source="common practice",
    examples=Examples(
        finds="""
            recordKind | recordKind_doubt
            release    | not-in-list
            find       | two-languages
            release    | error-cell
        """,
        leaves="""
            recordKind | recordKind_doubt
            release    |
            find       |
        """,
        near_misses="""
            recordKind | recordKind_written | recordKind_doubt
            release    | lâcher             |
            find       | h                  |
        """,
    ),
)
