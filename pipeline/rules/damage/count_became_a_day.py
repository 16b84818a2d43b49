"""A count that a spreadsheet turned into a day."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(x: pd.DataFrame) -> pd.Series:
    return x["individualCount_kind"] == "d"


RULE = Rule(
    title="A count became a day",
    severity="please-check",
    scope="row",
    asks="tagger",
    fields=("individualCount",),
    looked_up=("individualCount_kind", "count_was"),
    withholds=("individualCount",),
    message='The spreadsheet turned the number in row {row} into a day ("{seen}"), probably because it was'
    " written as a range, {count_was}. How many were there? If you only know the range, write it in words, 3 to 5.",
    why="spreadsheets rewrite what looks like a day without asking, and the count is gone",
    source="common practice; cf. Abeysooriya et al. 2021, PLOS Comput. Biol. 17:e1008984",
    examples=Examples(
        finds="""
            individualCount | individualCount_kind | count_was
            2026-05-03      | d                    | 3-5
        """,
        leaves="""
            individualCount | individualCount_kind
            3               | n
        """,
        near_misses="""
            individualCount | individualCount_kind
            3-5             | t
            2026-05-03      | t
            12:05           | c
            ""              | -
        """,
    ),
)
