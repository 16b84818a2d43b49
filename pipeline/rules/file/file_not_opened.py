"""A file that could not be opened as a table."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(x: pd.DataFrame) -> pd.Series:
    return x["refusal"] == "file_not_opened"


RULE = Rule(
    title="A file that we could not open",
    severity="must-answer",
    scope="file",
    asks="tagger",
    fields=("file",),
    looked_up=("refusal", "what", "instead"),
    message='We could not open "{file}": it looks like {what}, and we read the rows of sheets only. {instead}'
    " Nothing you typed is lost.",
    why="a file that is not a table holds no rows that we could read",
    source="common practice",
    examples=Examples(
        finds="""
            file           | refusal         | what       | instead
            anna/photo.jpg | file_not_opened | a picture  | Please type its rows into our blank form.
            anna/tags.zip  | file_not_opened | an archive | Please unpack it and send the sheets that are in it.
        """,
        leaves="""
            file           | refusal
            anna/tags.xlsx |
        """,
        near_misses="""
            file           | refusal
            anna/tags.xlsx | file_locked_by_password
            anna/tags.xlsm | workbook_with_macros
        """,
    ),
)
