"""A code that a spreadsheet turned into a number."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(x: pd.DataFrame) -> pd.Series:
    # A text file keeps no kinds: there only the tag that it must have been tells of the damage.
    is_damaged_text = (x["tagCode_doubt"] == "another-shape") & (x["damaged_tag_was"] != "")
    is_number = x["tagCode_written"].str.fullmatch(r"[0-9.,E+]+")
    became_a_number = (x["tagCode_doubt"] == "became-a-number") | (is_damaged_text & is_number)
    is_short = (x["prefixed_tag"] != "") & (x["damaged_tag_was"] == "")  # its letters were left off, and no more
    return (x["recordKind"] == "release") & became_a_number & ~is_short


def suggests(found: pd.DataFrame) -> dict[str, pd.Series]:
    return {"tagCode": found["damaged_tag_was"]}


RULE = Rule(
    title="A tag code became a number",
    severity="must-answer",
    scope="row",
    asks="tagger",
    fields=("tagCode",),
    looked_up=("tagCode_doubt", "tagCode_written", "damaged_tag_was", "prefixed_tag"),
    each_row=True,
    message='The code in row {row} became a number ("{seen}"); zeros at the front or an E in the middle were'
    " lost on the way. Of your tags only {suggestion} would be turned into that number. Was it that one?",
    unsuggested='The code in row {row} became a number ("{seen}"); zeros at the front or an E in the middle'
    " were lost on the way. Could you read it once more from your paper?",
    why="spreadsheets rewrite codes that look like a number without asking",
    source="Abeysooriya et al. 2021, PLOS Comput. Biol. 17:e1008984: codes altered by spreadsheets in 30.9 %"
    " of 11,117 articles with such lists",
    examples=Examples(
        finds="""
            tagCode       | tagCode_kind | tagCode_doubt   | damaged_tag_was | suggests tagCode
            7000000000000 | n            | became-a-number | 7E0012          | 7E0012
            123           | n            | became-a-number |                 |
            123           | t            | another-shape   | 00123           | 00123
            7.00E+12      | t            | another-shape   | 7E0012          | 7E0012
        """,
        leaves="""
            tagCode | tagCode_kind | tagCode_doubt
            00123   | t            |
            12345   | n            |
        """,
        near_misses="""
            tagCode    | tagCode_doubt   | damaged_tag_was | recordKind
            123        | another-shape   |                 | release
            123        |                 | 00123           | release
            12-Sep     | another-shape   | SEP12           | release
            2026-09-12 | became-a-day    | SEP12           | release
            123        | became-a-number | 00123           | find

            tagCode    | tagCode_doubt   | prefixed_tag
            123        | became-a-number | SM0123
        """,
    ),
)
