"""A mail in words that are neither answers nor a table."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(x: pd.DataFrame) -> pd.Series:
    is_read = (x["what"] == "a mail") & (x["copy_of"] == "")
    return is_read & (x["rows_read"] == 0) & (x["sheets_with_data"] > 0)


RULE = Rule(
    title="A mail to be read by a person",
    severity="for-information",
    scope="file",
    asks="coordinator",
    fields=("file",),
    looked_up=("what", "copy_of", "rows_read", "sheets_with_data", "writer"),
    message='"{file}" is a mail from {writer} with words in it that we took for neither answers nor a table; what came'
    " with it was read as files of their own. Please read it: a person may have said there what no sheet says.",
    why="a remark in a covering note may change what a row means",
    source="common practice",
    examples=Examples(
        finds="""
            file           | what   | rows_read | sheets_with_data | writer
            anna/hello.eml | a mail | 0         | 1                | anna@example.org
        """,
        leaves="""
            file           | what   | rows_read | sheets_with_data
            anna/table.eml | a mail | 4         | 1
        """,
        near_misses="""
            file           | what   | rows_read | sheets_with_data | copy_of
            anna/blank.eml | a mail | 0         | 0                |
            anna/again.eml | a mail | 0         | 1                | anna/hello.eml
            anna/list.txt  |        | 0         | 1                |
        """,
    ),
)
