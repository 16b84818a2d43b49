"""Sex in the column of the stage, and the stage in that of the sex."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(rows: pd.DataFrame) -> pd.Series:
    return rows["sex_in_stage"] != ""


def suggests(found: pd.DataFrame) -> dict[str, pd.Series]:
    return {"sex": found["sex_in_stage"], "lifeStage": found["stage_in_sex"]}


RULE = Rule(
    title="Sex and stage in each other's place",
    severity="please-check",
    scope="row",
    asks="tagger",
    fields=("sex", "lifeStage"),
    looked_up=("sex_in_stage", "stage_in_sex"),
    withholds=("sex", "lifeStage"),
    message='In row {row} the sex says "{seen}", which is a stage, and the stage says what is a sex, so both stay home'
    " for now. Shall we exchange the two?",
    why="each would be published as what it is not",
    source="mess found in real field sheets: Sex A and Age F in one row",
    examples=Examples(
        finds="""
            sex   | lifeStage | sex_in_stage | stage_in_sex | suggests sex | suggests lifeStage
            adult | F         | female       | adult        | female       | adult
        """,
        leaves="""
            sex    | lifeStage | sex_in_stage | stage_in_sex
            female | adult     |              |
        """,
        near_misses="""
            sex | lifeStage | sex_in_stage | stage_in_sex
            ?   | adult     |              |
            xyz | F         |              |
        """,
    ),
)
