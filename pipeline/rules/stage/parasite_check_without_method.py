"""The result of a parasite check without the way it was done."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(rows: pd.DataFrame) -> pd.Series:
    is_checked = (rows["parasiteCheck"] != "") & (rows["parasiteCheck_kind"] != "e")
    return is_checked & (rows["parasiteMethod"] == "")


RULE = Rule(
    title="A parasite check without its method",
    severity="for-information",
    scope="row",
    asks="tagger",
    fields=("parasiteCheck", "parasiteMethod"),
    looked_up=("parasiteCheck_kind",),
    message='Row {row} gives "{seen}" as the result of a parasite check without saying how it was done,'
    " and methods differ in what they find. If you remember the method, add it; otherwise there is nothing"
    " to do.",
    why="results of different methods cannot be counted together",
    source="common practice",
    examples=Examples(
        finds="""
            parasiteCheck | parasiteMethod
            clean         |
            12 spores     |
        """,
        leaves="""
            parasiteCheck | parasiteMethod
                          |
                          | sticky tape
        """,
        near_misses="""
            parasiteCheck | parasiteCheck_kind | parasiteMethod
            clean         | t                  | sticky tape
            #N/A          | e                  |
        """,
    ),
)
