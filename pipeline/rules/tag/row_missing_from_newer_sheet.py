"""A row that the newer version of its sheet no longer holds."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(rows: pd.DataFrame) -> pd.Series:
    return rows["missing_from"] != ""


def suggests(found: pd.DataFrame) -> dict[str, pd.Series]:
    return {"state": pd.Series("withdrawn", index=found.index, dtype="str")}


RULE = Rule(
    title="A row missing from the newer sheet",
    severity="please-check",
    scope="row",
    asks="tagger",
    fields=("tagCode",),
    looked_up=("missing_from",),
    message='Row {row} (tag {tagCode}) of your earlier sheet is no longer in your newer one, "{missing_from}".'
    " A row can drop out by a slip, so we keep it until you tell us. Did you take it out on purpose?",
    why="with a row that drops out by a slip goes all that we know of that butterfly",
    source="common practice",
    examples=Examples(
        finds="""
            tagCode | recordKind | missing_from    | suggests state | found
            SM0042  | release    | tags final.xlsx | withdrawn      | yes
            SM0043  | release    |                 |                | no
            SM0044  | find       | tags final.xlsx | withdrawn      | yes
            ""      | release    | tags final.xlsx | withdrawn      | yes
        """,
        leaves="""
            tagCode | missing_from
            SM0042  |
            SM0043  |
        """,
        near_misses="""
            tagCode | missing_from | sorted_alone | value_before
            SM0042  |              | eventDate    | 2026-09-03
            SM0043  |              | tagCode      |
            ""      |              |              |
        """,
    ),
)
