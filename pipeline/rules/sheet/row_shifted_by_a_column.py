"""A row whose cells stand one column beside their headings."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(rows: pd.DataFrame) -> pd.Series:
    return rows["row_shift"] != ""


RULE = Rule(
    title="A row shifted by a column",
    severity="must-answer",
    scope="row",
    asks="tagger",
    fields=("tagCode",),
    looked_up=("row_shift",),
    message="In row {row} the code and the day stand one column to the {row_shift} of their headings, so every cell of"
    " the row may say what its neighbour should. Please put the cells of that row in their places on the page with your"
    " rows, or send the sheet again.",
    why="a cell under the wrong heading would be published as something that it is not",
    source="mess found in real field sheets: a person's name in a date column, a software's name as elevation",
    each_row=True,
    examples=Examples(
        finds="""
            tagCode | row_shift
            ""      | right
            Truro   | left
        """,
        leaves="""
            tagCode | row_shift
            SM0101  |
        """,
        near_misses="""
            tagCode | row_shift
            ""      |
            Truro   |
        """,
    ),
)
