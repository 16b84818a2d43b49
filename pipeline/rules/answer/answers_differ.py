"""Lines that answer the same question differently."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(answers: pd.DataFrame) -> pd.Series:
    differs = (answers["outcome"] == "differs") & answers["is_open"]
    # One question has one doubt, however many lines it stands on.
    said = answers.loc[differs, ["person_id", "ref"]].duplicated()
    return differs & ~said.reindex(answers.index, fill_value=False)


RULE = Rule(
    title="Answers that differ",
    severity="please-check",
    scope="answer",
    asks="tagger",
    fields=("typed",),
    looked_up=("outcome", "is_open", "ref", "number"),
    message="Your lines about question {number} answer it differently, one of them with"
    ' "{seen}", so we took none of them. Which one holds? Please answer question {number} once more, then this is'
    " settled too.",
    why="of two answers to one question only one can hold, and which one only you can say",
    source="common practice",
    examples=Examples(
        finds="""
            ref     | person_id   | number | typed  | outcome | is_open | found
            53Y3ZEC | anna        | 3      | SM0043 | differs | yes     | yes
            53Y3ZEC | anna        | 3      | SM0044 | differs | yes     | no
            NBS3HF9 | anna        | 4      | yes    | differs | yes     | yes
            53Y3ZEC | coordinator | 3      | SM0043 | differs | yes     | yes
        """,
        leaves="""
            ref     | number | typed | outcome     | is_open
            53Y3ZEC | 3      | yes   | applied     | no
            53Y3ZEC | 3      | yes   | came before | no
        """,
        near_misses="""
            ref     | number | typed  | outcome  | is_open
            53Y3ZEC | 3      | SM0043 | differs  | no
            53Y3ZEC | 3      | SM0044 | differs  | no
            NBS3HF9 | 4      | hm     | not read | yes
        """,
    ),
)
