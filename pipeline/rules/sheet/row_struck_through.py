"""A row with a line drawn through it."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(rows: pd.DataFrame) -> pd.Series:
    return rows["row_is_struck"]


def suggests(found: pd.DataFrame) -> dict[str, pd.Series]:
    return {"state": pd.Series("withdrawn", index=found.index, dtype="str")}


RULE = Rule(
    title="A row that was struck through",
    severity="must-answer",
    scope="row",
    asks="tagger",
    fields=("tagCode",),
    looked_up=("row_is_struck",),
    message="Row {row} (tag {tagCode}) has a line drawn through it. Often that means that the row should not count, so"
    " it waits until you tell us. Shall we take it out?",
    why="a row that its recorder crossed out must not be published, and one crossed out by a slip not be lost",
    source="mess found in real field sheets: struck-through rows usually mean deleted",
    examples=Examples(
        finds="""
            tagCode | row_is_struck | suggests state
            SM0042  | yes           | withdrawn
            ""      | yes           | withdrawn
        """,
        leaves="""
            tagCode | row_is_struck
            SM0042  | no
        """,
        near_misses="""
            tagCode | row_is_struck | row_is_hidden
            SM0042  | no            | yes
        """,
    ),
)
