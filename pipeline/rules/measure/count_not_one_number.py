"""A count in which we see no single whole number."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(rows: pd.DataFrame) -> pd.Series:
    is_damaged = rows["individualCount_kind"].isin(["d", "e", "f"])  # asked about by the rules on damage
    is_whole = rows["individualCount"].str.fullmatch(r"\d+")
    return (rows["individualCount"] != "") & ~is_whole & ~is_damaged


RULE = Rule(
    title="A count that is not one number",
    severity="please-check",
    scope="row",
    asks="tagger",
    fields=("individualCount",),
    looked_up=("individualCount_kind",),
    withholds=("individualCount",),
    message='Row {row} gives the number of butterflies as "{seen}", and portals take one whole number, so your words'
    " stay with us and no number is published for now. How many were there? If nobody counted them, an empty cell is"
    " right.",
    why="a number at least, or about, is read as exact once its words are gone",
    source="mess found in real field sheets: >100, at least 1, 4 or 5; Darwin Core, individualCount",
    examples=Examples(
        finds="""
            individualCount | individualCount_kind
            >100            | t
            4 or 5          | t
            at least 1      | t
            none            | t
            2.5             | n
            -1              | n
        """,
        leaves="""
            individualCount | individualCount_kind
            1               | n
            12              | t
            ""              | -
        """,
        near_misses="""
            individualCount | individualCount_kind
            2026-05-06      | d
            #N/A            | e
            =A1             | f
            0               | n
        """,
    ),
)
