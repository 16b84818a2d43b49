"""A file that was read and held no rows."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(x: pd.DataFrame) -> pd.Series:
    is_read = (x["refusal"] == "") & (x["copy_of"] == "")
    has_no_headings = (x["tables"] == 0) & (x["sheets_with_data"] > 0)
    return is_read & (x["what"] != "a mail") & (x["rows_read"] == 0) & ~has_no_headings


RULE = Rule(
    title="A file without rows",
    severity="please-check",
    scope="file",
    asks="tagger",
    fields=("file",),
    looked_up=("refusal", "what", "copy_of", "tables", "sheets_with_data", "rows_read"),
    message='"{file}" came without any filled row, so we may be missing what you wrote. Was it the blank'
    ' form by chance? If you used no tags this year, just tell us so: "none" is a good answer.',
    why="an empty form looks the same as a season without a release",
    source="common practice",
    examples=Examples(
        finds="""
            file           | tables | sheets_with_data | rows_read
            anna/form.xlsx | 1      | 1                | 0
            anna/blank.csv | 0      | 0                | 0
        """,
        leaves="""
            file           | rows_read
            anna/tags.xlsx | 12
        """,
        near_misses="""
            file           | tables | sheets_with_data | rows_read | refusal         | copy_of
            anna/one.csv   | 1      | 1                | 1         |                 |
            anna/list.csv  | 0      | 1                | 0         |                 |
            anna/photo.jpg | 0      | 0                | 0         | file_not_opened |
            anna/again.csv | 1      | 1                | 0         |                 | anna/form.csv

            file           | tables | sheets_with_data | rows_read | what
            anna/hello.eml | 0      | 0                | 0         | a mail
        """,
    ),
)
