"""Two headings of one table that say the same field."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(x: pd.DataFrame) -> pd.Series:
    return x["also"] != ""


RULE = Rule(
    title="Two headings for one field",
    severity="must-answer",
    scope="heading",
    asks="tagger",
    fields=("heading",),
    looked_up=("also",),
    message='Your columns "{heading}" and "{also}" seem to say the same thing, and we can take it from only'
    " one of them. Which one should we read, and what is the other?",
    decides="heading",
    why="two columns for one field may differ, and we do not choose between them in silence",
    source="common practice",
    examples=Examples(
        finds="""
            heading | also | field | guess
            Tag no. | Tag  |       | tagCode
            Date    | Day  |       | eventDate
        """,
        leaves="""
            heading | also | field
            Tag     |      | tagCode
        """,
        near_misses="""
            heading | also | field     | guess
            Date    |      | eventDate |
            Datte   |      |           | eventDate
        """,
    ),
)
