"""A life stage that cannot carry a wing tag."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(cells: pd.Series) -> pd.Series:
    return cells.isin(["egg", "larva", "pupa"])


RULE = Rule(
    title="A stage without a wing",
    severity="please-check",
    scope="cell",
    asks="tagger",
    fields=("lifeStage",),
    withholds=("lifeStage",),
    message='Row {row} says "{seen}" for the stage, and only an adult has a wing to carry a tag. Is it a'
    " note that you reared it? Then the stage is adult, and the note belongs in the column for the origin.",
    why="eggs, caterpillars and chrysalises have no wing",
    source="common practice",
    examples=Examples(
        finds="""
            lifeStage | lifeStage_written
            larva     | caterpillar
            pupa      | chrysalide
            egg       | huevo
        """,
        leaves="""
            lifeStage
            adult

        """,
        near_misses="""
            lifeStage
            larval
            imago
        """,
    ),
)
