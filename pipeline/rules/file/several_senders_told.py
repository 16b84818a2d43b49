"""A file whose folder, mail and name above the table point to several people."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(x: pd.DataFrame) -> pd.Series:
    return (x["senders_told"] != "") & (x["copy_of"] == "") & (x["rows_read"] > 0)


RULE = Rule(
    title="A file that points to several people",
    severity="must-answer",
    scope="file",
    asks="coordinator",
    fields=("file",),
    looked_up=("senders_told", "copy_of", "rows_read"),
    message='"{file}" points to several people, {senders_told}: its folder, the mail that it came in and the name above'
    " the table do not agree. We took it for {person_id}'s, so the questions about it go there. Whose is it?",
    decides="sender",
    why="questions, thanks and privacy all hang on knowing the sender",
    source="common practice",
    examples=Examples(
        finds="""
            file           | person_id | senders_told | rows_read
            p03/tags.xlsx  | p03       | p03, p07     | 12
        """,
        leaves="""
            file           | person_id | senders_told | rows_read
            p03/tags.xlsx  | p03       |              | 12
        """,
        near_misses="""
            file           | person_id | senders_told | rows_read | copy_of
            p03/form.xlsx  | p03       | p03, p07     | 0         |
            p03/again.xlsx | p03       | p03, p07     | 12        | p03/tags.xlsx
        """,
    ),
)
