"""A word in the stage column that is on no list of ours."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(rows: pd.DataFrame) -> pd.Series:
    return (rows["lifeStage_doubt"] != "") & (rows["lifeStage_kind"] != "e")


def suggests(found: pd.DataFrame) -> dict[str, pd.Series]:
    return {"lifeStage": found["nearest_stage"]}


RULE = Rule(
    title="A word for the stage that we do not know",
    severity="please-check",
    scope="row",
    asks="tagger",
    fields=("lifeStage",),
    looked_up=("lifeStage_doubt", "lifeStage_kind", "nearest_stage"),
    withholds=("lifeStage",),
    message='We do not know the word "{seen}" for the stage in row {row}, so no stage is published for'
    " now. Did you mean {suggestion}?",
    unsuggested='We do not know the word "{seen}" for the stage in row {row}, so no stage is published for'
    " now. Was it an adult? A tag for the wing says so by itself, and an empty cell is fine.",
    why="portals take words of a list, and a guess would count as knowledge",
    source="the programme's word list; Darwin Core, lifeStage",
    examples=Examples(
        finds="""
            lifeStage | lifeStage_doubt | nearest_stage | suggests lifeStage
            adutl     | not-in-list     | adult         | adult
            B         | not-in-list     |               |
            adult?    | unsure          |               |
        """,
        leaves="""
            lifeStage
            adult

        """,
        near_misses="""
            lifeStage | lifeStage_doubt | lifeStage_kind
            #REF!     | not-in-list     | e
            larva     |                 | t
        """,
    ),
)
