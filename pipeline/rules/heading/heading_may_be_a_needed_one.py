"""A heading that is new to us, and near one that the table lacks."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(x: pd.DataFrame) -> pd.Series:
    is_unknown = (x["field"] == "") & (x["also"] == "")
    return is_unknown & x["is_needed"] & x["some_needed_is_missing"]


def suggests(found: pd.DataFrame) -> dict[str, pd.Series]:
    return {"heading": found["guess"]}


RULE = Rule(
    title="A heading that may be a needed one",
    severity="must-answer",
    scope="heading",
    asks="tagger",
    fields=("heading",),
    looked_up=("field", "also", "guess", "is_needed", "some_needed_is_missing"),
    message='Your column "{heading}" is new to us, and we cannot use the sheet without knowing its tags,'
    " species, days and places. Is it the same as {suggestion}?",
    unsuggested='Your column "{heading}" is new to us, and we cannot use the sheet without knowing its tags,'
    " species, days and places. What does it hold?",
    decides="heading",
    why="a needed column taken for another would put every row of the sheet in doubt",
    source="common practice",
    examples=Examples(
        finds="""
            heading  | field | guess     | is_needed | some_needed_is_missing | suggests heading
            Tagg n   |       | tagCode   | yes       | yes                    | tagCode
            Datte    |       | eventDate | yes       | yes                    | eventDate
        """,
        leaves="""
            heading | field   | is_needed
            Tag     | tagCode | yes
        """,
        near_misses="""
            heading | field     | also | guess   | is_needed | some_needed_is_missing
            Tagg n  |           |      | tagCode | yes       | no
            Tagg n  |           | Tag  | tagCode | yes       | yes
            Sexx    |           |      | sex     | no        | yes
            Mood    |           |      |         | no        | yes
            Tag     | tagCode   |      |         | yes       | yes
            ""      | eventDate |      |         | yes       | yes
        """,
    ),
)
