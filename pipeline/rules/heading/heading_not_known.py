"""A heading that is new to us, where nothing needed hangs on it."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(x: pd.DataFrame) -> pd.Series:
    is_unknown = (x["field"] == "") & (x["also"] == "") & (x["heading"] != "")
    may_be_needed = x["is_needed"] & x["some_needed_is_missing"]
    return is_unknown & ~may_be_needed


RULE = Rule(
    title="A heading that is new to us",
    severity="for-information",
    scope="heading",
    asks="tagger",
    fields=("heading",),
    looked_up=("field", "also", "is_needed", "some_needed_is_missing"),
    message='Your column "{heading}" is new to us. We keep what you wrote in it, but do not use it yet. Tell'
    " us what it holds if it should count; otherwise there is nothing to do.",
    why="a column that we do not know may hold something worth keeping",
    source="common practice",
    examples=Examples(
        finds="""
            heading  | field | guess    | is_needed | some_needed_is_missing
            Mood     |       |          | no        | no
            Mood     |       |          | no        | yes
            Loc. n°  |       | locality | yes       | no
            Sexx     |       | sex      | no        | yes
        """,
        leaves="""
            heading | field
            Sex     | sex
        """,
        near_misses="""
            heading | field     | also | guess   | is_needed | some_needed_is_missing
            Tagg n  |           |      | tagCode | yes       | yes
            Sexx    |           | Sex  | sex     | no        | no
            ""      |           |      |         | no        | no
            Day     | eventDate |      |         | yes       | no
        """,
    ),
)
