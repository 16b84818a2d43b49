"""A file of which we cannot tell who sent it."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(x: pd.DataFrame) -> pd.Series:
    return ~x["is_sender_known"] & (x["rows_read"] > 0) & (x["copy_of"] == "")


RULE = Rule(
    title="A file from nobody we know",
    severity="must-answer",
    scope="file",
    asks="coordinator",
    fields=("file",),
    looked_up=("is_sender_known", "rows_read", "copy_of"),
    message='"{file}" holds {rows_read} rows, and neither its folder, a mail that it came in, a name on the sheet nor'
    " the tags say whose it is, so nobody can be asked about it. Who sent it? Move it into the folder named after that"
    " person.",
    decides="sender",
    why="questions, thanks and privacy all hang on knowing the sender",
    source="common practice",
    examples=Examples(
        finds="""
            file      | is_sender_known | rows_read
            tags.xlsx | no              | 12
        """,
        leaves="""
            file           | is_sender_known | rows_read
            anna/tags.xlsx | yes             | 12
        """,
        near_misses="""
            file           | is_sender_known | rows_read | copy_of
            form.xlsx      | no              | 0         |
            again.xlsx     | no              | 12        | anna/tags.xlsx
        """,
    ),
)
