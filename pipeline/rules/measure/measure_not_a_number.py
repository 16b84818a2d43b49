"""A measure in which we see no single number."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(cells: pd.Series) -> pd.Series:
    is_number = cells.str.fullmatch(r"-?\d+(?:\.\d+)?")
    is_damaged = cells.str.startswith("#")  # as a spreadsheet writes what it could not work out
    return (cells != "") & ~is_number & ~is_damaged


RULE = Rule(
    title="A measure that is not a number",
    severity="please-check",
    scope="cell",
    asks="tagger",
    fields=("forewingLength", "wingSpan", "bodyMass"),
    withholds=("forewingLength", "wingSpan", "bodyMass"),
    message='We could not read one number in "{seen}" (row {row}), so the measure stays out of the'
    " published record for now. Please write the number alone, or leave the cell empty if you did not"
    " measure.",
    why="ranges and estimates cannot be averaged with measured values",
    source="common practice",
    examples=Examples(
        finds="""
            forewingLength | wingSpan | bodyMass
            big            |          |
            50-52          | 98       | 0.5
            51             | ~100     |
            51             | 100      | >0.5
            5 1            |          |
        """,
        leaves="""
            forewingLength | wingSpan | bodyMass
            51             | 98.5     | 0.5
                           |          |
        """,
        near_misses="""
            forewingLength | wingSpan | bodyMass
            0              | -98.5    | 0.50
            #N/A           | #DIV/0!  | #VALUE!
        """,
    ),
)
