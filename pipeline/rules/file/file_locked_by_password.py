"""A workbook that is protected with a password."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(x: pd.DataFrame) -> pd.Series:
    return x["refusal"] == "file_locked_by_password"


RULE = Rule(
    title="A file locked with a password",
    severity="must-answer",
    scope="file",
    asks="tagger",
    fields=("file",),
    looked_up=("refusal",),
    message='"{file}" is protected with a password, so we cannot read it. Please send a copy without the'
    " password; if you would rather not mail it open, call us and we will find another way.",
    why="a locked file keeps its rows to itself",
    source="common practice",
    examples=Examples(
        finds="""
            file           | refusal                 | what
            anna/tags.xlsx | file_locked_by_password | a workbook with a password
        """,
        leaves="""
            file           | refusal
            anna/tags.xlsx |
        """,
        near_misses="""
            file           | refusal
            anna/tags.xlsx | file_not_opened
            anna/tags.xlsm | workbook_with_macros
        """,
    ),
)
