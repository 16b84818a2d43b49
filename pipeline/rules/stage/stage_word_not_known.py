"""A word in the stage column that is on no list of ours."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(rows: pd.DataFrame) -> pd.Series:
    is_crossed = rows["sex_in_stage"] != ""  # asked about together with the sex
    return (rows["lifeStage_doubt"] != "") & (rows["lifeStage_kind"] != "e") & ~is_crossed


def suggests(found: pd.DataFrame) -> dict[str, pd.Series]:
    is_doubted = found["lifeStage_doubt"] == "unsure"
    return {"lifeStage": found["nearest_stage"].where(~is_doubted, found["lifeStage_candidates"])}


RULE = Rule(
    title="A word for the stage that we do not know",
    severity="please-check",
    scope="row",
    asks="tagger",
    fields=("lifeStage",),
    looked_up=("lifeStage_doubt", "lifeStage_kind", "lifeStage_candidates", "nearest_stage", "sex_in_stage"),
    withholds=("lifeStage",),
    by_word=True,
    message='We do not know the word "{seen}" for the stage in row {row}, so no stage is published for'
    " now. Did you mean {suggestion}?",
    unsuggested='We do not know the word "{seen}" for the stage in row {row}, so no stage is published for'
    " now. Was it an adult? A tag for the wing says so by itself, and an empty cell is fine.",
    why="portals take words of a list, and a guess would count as knowledge",
    source="the programme's word list; Darwin Core, lifeStage",
    examples=Examples(
        finds="""
            lifeStage | lifeStage_doubt | nearest_stage | lifeStage_candidates | suggests lifeStage
            adutl     | not-in-list     | adult         |                      | adult
            B         | not-in-list     |               |                      |
            adult?    | unsure          |               | adult                | adult
        """,
        leaves="""
            lifeStage
            adult

        """,
        near_misses="""
            lifeStage | lifeStage_doubt | lifeStage_kind | sex_in_stage
            #REF!     | not-in-list     | e              |
            larva     |                 | t              |
            F         | not-in-list     | t              | female
        """,
    ),
)
