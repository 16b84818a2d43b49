"""Words about what became of a tag that we cannot read."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(answers: pd.DataFrame) -> pd.Series:
    is_about_a_tag = (answers["number"] == 0) & (answers["tagCode"] != "")
    return (answers["outcome"] == "not read") & answers["is_open"] & is_about_a_tag


RULE = Rule(
    title="Words about a tag that we could not read",
    severity="for-information",
    scope="answer",
    asks="tagger",
    fields=("typed",),
    looked_up=("outcome", "is_open", "number", "tagCode"),
    message='Beside tag {tagCode} you wrote "{seen}", and we could not tell what became of it, so it still counts as'
    ' not heard of. Please pick from the list, or reply in words, for instance "{tagCode} lost".',
    why="every tag that was handed out is counted once, and a guess would count it wrong",
    source="common practice",
    examples=Examples(
        finds="""
            number | tagCode | typed           | outcome  | is_open
            0      | SM0043  | gave it to Maud | not read | yes
            0      | SM0044  | ??              | not read | yes
        """,
        leaves="""
            number | tagCode | typed | outcome | is_open
            0      | SM0043  | lost  | applied | no
        """,
        near_misses="""
            number | tagCode | typed           | outcome          | is_open
            0      | SM0043  | gave it to Maud | not read         | no
            3      | SM0043  | see my mail     | not read         | yes
            0      | SM0043  | gave it to Maud | no such question | yes
            0      | ""      | gave it to Maud | not read         | yes
        """,
    ),
)
