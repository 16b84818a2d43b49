"""A workbook with data on more than one sheet."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(x: pd.DataFrame) -> pd.Series:
    is_read = (x["refusal"] == "") & (x["copy_of"] == "")
    return is_read & (x["sheets_with_data"] > 1)


RULE = Rule(
    title="Several sheets with data",
    severity="for-information",
    scope="file",
    asks="tagger",
    fields=("file",),
    looked_up=("refusal", "copy_of", "sheets_with_data", "sheet_names"),
    message='"{file}" has {sheets_with_data} sheets with data ({sheet_names}), and we read all of them. Tell'
    " us if one of them was only practice; otherwise there is nothing to do.",
    why="a sheet made for practice would add rows that never happened",
    source="common practice",
    examples=Examples(
        finds="""
            file           | sheets_with_data | sheet_names
            anna/tags.xlsx | 2                | August, September
        """,
        leaves="""
            file           | sheets_with_data
            anna/tags.xlsx | 1
        """,
        near_misses="""
            file           | sheets_with_data | refusal              | copy_of
            anna/form.xlsx | 0                |                      |
            anna/tags.xlsm | 2                | workbook_with_macros |
            anna/again.xls | 2                |                      | anna/tags.xls
        """,
    ),
)
