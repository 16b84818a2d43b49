"""A forewing longer than the whole wing span."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(rows: pd.DataFrame) -> pd.Series:
    length, span = rows["millimetres"], rows["span_millimetres"]
    return (length > span) & (length < 3 * span)


def suggests(found: pd.DataFrame) -> dict[str, pd.Series]:
    return {"forewingLength": found["wingSpan"], "wingSpan": found["forewingLength"]}


RULE = Rule(
    title="Wing span and forewing crossed",
    severity="please-check",
    scope="row",
    asks="tagger",
    fields=("forewingLength", "wingSpan"),
    looked_up=("millimetres", "span_millimetres"),
    withholds=("forewingLength", "wingSpan"),
    message="In row {row} the forewing ({forewingLength} mm) is longer than the wing span ({wingSpan} mm),"
    " which reaches over both wings, so the two look exchanged and stay out of the published record for"
    " now. Shall we exchange them?",
    why="a wing span is about twice a forewing; three times and more is a matter of units instead",
    source="common practice",
    examples=Examples(
        finds="""
            forewingLength | wingSpan | millimetres | span_millimetres | suggests forewingLength | suggests wingSpan
            98             | 51.5     | 98          | 51.5             | 51.5                    | 98
            52             | 51       | 52          | 51               | 51                      | 52
        """,
        leaves="""
            forewingLength | wingSpan | millimetres | span_millimetres
            51.5           | 98       | 51.5        | 98
            51.5           |          | 51.5        |
                           | 51       |             | 51
        """,
        near_misses="""
            forewingLength | wingSpan | millimetres | span_millimetres
            51             | 51       | 51          | 51
            60             | 20       | 60          | 20
        """,
    ),
)
