"""A file whose bytes came before."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(x: pd.DataFrame) -> pd.Series:
    return x["copy_of"] != ""


RULE = Rule(
    title="The same file came before",
    severity="for-information",
    scope="file",
    asks="tagger",
    fields=("file",),
    looked_up=("copy_of",),
    # The first path may lie in somebody else's folder, so it is not told.
    message='We already have exactly the same file as "{file}", so nothing was added twice. There is nothing to do.',
    why="a file sent twice must not count twice",
    source="common practice",
    examples=Examples(
        finds="""
            file                | copy_of
            anna/tags (1).xlsx  | anna/tags.xlsx
            class-4b/tags.xlsx  | anna/tags.xlsx
        """,
        leaves="""
            file           | copy_of
            anna/tags.xlsx |
        """,
        near_misses="""
            file                    | copy_of | refusal
            anna/tags final v2.xlsx |         |
            anna/tags.xlsm          |         | workbook_with_macros
        """,
    ),
)
