"""A length or a mass of nought or less."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(cells: pd.Series) -> pd.Series:
    return cells.str.fullmatch(r"-\d+(?:\.\d+)?|0+(?:\.0*)?")


RULE = Rule(
    title="A measure of nought or less",
    severity="please-check",
    scope="cell",
    asks="tagger",
    fields=("forewingLength", "wingSpan", "bodyMass"),
    withholds=("forewingLength", "wingSpan", "bodyMass"),
    message='The measure in row {row} is "{seen}", and no butterfly is so small, so it stays out of the published'
    " record. If it stands for not measured, an empty cell says so; else, what was the number?",
    why="0 and -999 are often written for not measured, and averages take them for numbers",
    source="common practice",
    examples=Examples(
        finds="""
            forewingLength | wingSpan | bodyMass
            51             | 0        | 0.5
            51             | 100      | -999
            -9             | 100      | 0.5
            51             | 100      | 0.0
        """,
        leaves="""
            forewingLength | wingSpan | bodyMass
            51             | 100      | 0.5
                           |          |
        """,
        near_misses="""
            forewingLength | wingSpan | bodyMass
            0.1            | 10       | 0.05
            -              | 50-52    | ~0
        """,
    ),
)
