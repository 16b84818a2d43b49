"""A file that unpacks to an unusually large size."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(x: pd.DataFrame) -> pd.Series:
    return x["refusal"] == "file_unpacks_too_large"


RULE = Rule(
    title="A file that unpacks too large",
    severity="must-answer",
    scope="file",
    asks="tagger",
    fields=("file",),
    looked_up=("refusal",),
    message='"{file}" unpacks to an unusually large size, so we stopped before opening it. Please copy your'
    " rows into a fresh blank form and send that; nothing you typed is lost.",
    why="a small file that unpacks without end can stop a computer",
    source="common practice",
    examples=Examples(
        finds="""
            file           | refusal                | what
            anna/tags.xlsx | file_unpacks_too_large | a workbook of 3 GB
        """,
        leaves="""
            file           | refusal
            anna/tags.xlsx |
        """,
        near_misses="""
            file           | refusal
            anna/tags.xlsx | file_not_opened
            anna/tags.xlsx | file_locked_by_password
        """,
    ),
)
