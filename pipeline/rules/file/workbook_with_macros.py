"""A workbook that contains macros."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(x: pd.DataFrame) -> pd.Series:
    return x["refusal"] == "workbook_with_macros"


RULE = Rule(
    title="A workbook with macros",
    severity="must-answer",
    scope="file",
    asks="tagger",
    fields=("file",),
    looked_up=("refusal",),
    message='"{file}" contains macros (small programs), and for everybody\'s safety we do not open those.'
    ' Please choose "Save as", pick the plain .xlsx type, and send that copy.',
    why="a program inside a file can do harm on every computer that opens it",
    source="common practice",
    examples=Examples(
        finds="""
            file           | refusal              | what
            anna/tags.xlsm | workbook_with_macros | a workbook with macros
        """,
        leaves="""
            file           | refusal
            anna/tags.xlsx |
        """,
        near_misses="""
            file           | refusal
            anna/tags.xlsx | file_not_opened
            anna/tags.xlsx | file_unpacks_too_large
        """,
    ),
)
