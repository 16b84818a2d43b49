"""A code that a spreadsheet turned into a day."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(x: pd.DataFrame) -> pd.Series:
    # A text file keeps no kinds: there only the tag that it must have been tells of the damage.
    is_damaged_text = (x["tagCode_doubt"] == "another-shape") & (x["damaged_tag_was"] != "")
    is_number = x["tagCode_written"].str.fullmatch(r"[0-9.,E+]+")
    is_day = (x["tagCode_doubt"] == "became-a-day") | (is_damaged_text & ~is_number)
    return (x["recordKind"] == "release") & is_day


def suggests(found: pd.DataFrame) -> dict[str, pd.Series]:
    return {"tagCode": found["damaged_tag_was"]}


RULE = Rule(
    title="A tag code became a day",
    severity="must-answer",
    scope="row",
    asks="tagger",
    fields=("tagCode",),
    looked_up=("tagCode_doubt", "tagCode_written", "damaged_tag_was"),
    each_row=True,
    message='The spreadsheet turned the code in row {row} into a day ("{seen}"), so the code itself is gone'
    " from the cell. Of your tags only {suggestion} would be turned into that day. Was it that one?",
    unsuggested='The spreadsheet turned the code in row {row} into a day ("{seen}"), so the code itself is'
    " gone from the cell. Could you read it once more from your paper?",
    why="spreadsheets rewrite codes that look like a day without asking",
    source="Abeysooriya et al. 2021, PLOS Comput. Biol. 17:e1008984: codes altered by spreadsheets in 30.9 %"
    " of 11,117 articles with such lists",
    examples=Examples(
        finds="""
            tagCode    | tagCode_kind | tagCode_doubt | damaged_tag_was | suggests tagCode
            2026-09-12 | d            | became-a-day  | SEP12           | SEP12
            2026-09-13 | d            | became-a-day  |                 |
            12-Sep     | t            | another-shape | SEP12           | SEP12
        """,
        leaves="""
            tagCode | tagCode_doubt
            SEP12   |
        """,
        near_misses="""
            tagCode    | tagCode_doubt   | damaged_tag_was | recordKind
            12-Sep     | another-shape   |                 | release
            SEPT12     |                 | SEP12           | release
            123        | another-shape   | 00123           | release
            123        | became-a-number | 00123           | release
            2026-09-12 | became-a-day    | SEP12           | find
        """,
    ),
)
