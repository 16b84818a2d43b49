"""A word in the sex column that is on no list of ours."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(rows: pd.DataFrame) -> pd.Series:
    is_crossed = rows["stage_in_sex"] != ""  # asked about together with the stage
    return (rows["sex_doubt"] == "not-in-list") & (rows["sex_kind"] != "e") & ~is_crossed


def suggests(found: pd.DataFrame) -> dict[str, pd.Series]:
    return {"sex": found["nearest_sex"]}


RULE = Rule(
    title="A word for the sex that we do not know",
    severity="please-check",
    scope="row",
    asks="tagger",
    fields=("sex",),
    looked_up=("sex_doubt", "sex_kind", "nearest_sex", "stage_in_sex"),
    withholds=("sex",),
    by_word=True,
    message='"{seen}" in row {row} is not a word for the sex that we know, so the sex stays out of the'
    " published record for now. Did you mean {suggestion}? If you are unsure, an empty cell is a good"
    " answer.",
    unsuggested='"{seen}" in row {row} is not a word for the sex that we know, so the sex stays out of the'
    " published record for now. Was it a male or a female? If you are unsure, an empty cell is a good"
    " answer.",
    why="portals take male, female or nothing, and a guess would count as knowledge",
    source="the programme's word list; Darwin Core, sex",
    examples=Examples(
        finds="""
            sex     | sex_doubt   | nearest_sex | suggests sex
            femlae  | not-in-list | female      | female
            J       | not-in-list |             |
        """,
        leaves="""
            sex
            female
            male

        """,
        near_misses="""
            sex  | sex_doubt     | sex_kind
            F?   | unsure        | t
            H    | two-languages | t
            #N/A | not-in-list   | e

            sex | sex_doubt   | stage_in_sex
            A   | not-in-list | adult
        """,
    ),
)
