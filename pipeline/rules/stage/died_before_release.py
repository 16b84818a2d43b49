"""A release of a butterfly that the row calls dead."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(rows: pd.DataFrame) -> pd.Series:
    return (rows["recordKind"] == "release") & (rows["vitality"] == "dead")


def suggests(found: pd.DataFrame) -> dict[str, pd.Series]:
    """Counts the tag as spoiled, unless the row says that it was released."""
    spoiled = pd.Series("spoiled", index=found.index, dtype="str")
    return {"tagFate": spoiled.where(found["tagFate"] == "", "")}


RULE = Rule(
    title="Dead before its release",
    severity="must-answer",
    scope="row",
    asks="tagger",
    fields=("vitality", "tagFate"),
    message='Row {row} says "{seen}", and a butterfly that did not fly is no release. Shall we count its'
    " tag as spoiled and publish nothing? One that flew off with its tag counts as released: tell us so.",
    unsuggested='Row {row} says "{seen}" and also that the tag was released, and a butterfly that did not'
    " fly is no release. Which of the two is right?",
    why="only a butterfly that flew off can be found elsewhere",
    source="the programme's settings",
    examples=Examples(
        finds="""
            vitality | tagFate  | suggests tagFate
            dead     |          | spoiled
            dead     | released |
        """,
        leaves="""
            vitality | tagFate
            alive    |
                     |
        """,
        near_misses="""
            vitality | recordKind
            dead     | find
            weak     | release
        """,
    ),
)
