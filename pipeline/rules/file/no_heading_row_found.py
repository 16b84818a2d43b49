"""A file whose sheets hold data, but no heading row that we know."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(x: pd.DataFrame) -> pd.Series:
    is_read = (x["refusal"] == "") & (x["copy_of"] == "")
    return is_read & (x["what"] != "a mail") & (x["tables"] == 0) & (x["sheets_with_data"] > 0)


RULE = Rule(
    title="No heading row found",
    severity="must-answer",
    scope="file",
    asks="tagger",
    fields=("file",),
    looked_up=("refusal", "what", "copy_of", "tables", "sheets_with_data"),
    message='We found no heading row with a column for the tags on any sheet of "{file}", so we cannot tell'
    " which column is which. Which row has your headings? Or send it again with a heading above each column.",
    why="without headings a number may be a tag, a wing length or a day",
    source="common practice",
    examples=Examples(
        finds="""
            file          | tables | sheets_with_data | rows_read
            anna/list.csv | 0      | 1                | 0
        """,
        leaves="""
            file          | tables | sheets_with_data
            anna/list.csv | 1      | 1
        """,
        near_misses="""
            file           | tables | sheets_with_data | refusal         | copy_of
            anna/empty.csv | 0      | 0                |                 |
            anna/photo.jpg | 0      | 1                | file_not_opened |
            anna/again.csv | 0      | 1                |                 | anna/list.csv
            anna/two.xlsx  | 1      | 2                |                 |

            file           | tables | sheets_with_data | what
            anna/hello.eml | 0      | 1                | a mail
        """,
    ),
)
