"""A row that was hidden in its sheet, by hand or by a filter."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(rows: pd.DataFrame) -> pd.Series:
    return rows["row_is_hidden"]


RULE = Rule(
    title="A hidden row that we read",
    severity="for-information",
    scope="row",
    asks="tagger",
    fields=("tagCode",),
    looked_up=("row_is_hidden",),
    message="Row {row} is hidden in your sheet, perhaps by a filter that was left on. We read it like the others, for"
    " hidden rows are still yours. If a hidden row should not count, please tell us.",
    why="a filter that was left on must not make records vanish",
    source="mess found in real field sheets: filtered rows are data",
    examples=Examples(
        finds="""
            tagCode | row_is_hidden
            SM0042  | yes
        """,
        leaves="""
            tagCode | row_is_hidden
            SM0042  | no
        """,
        near_misses="""
            tagCode | row_is_hidden | row_is_struck
            SM0042  | no            | yes
        """,
    ),
)
