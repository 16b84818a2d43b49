"""A file of one person that answers what was put to another."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(answers: pd.DataFrame) -> pd.Series:
    is_anothers = answers["outcome"] == "somebody else's"
    # A whole sheet of somebody else's is one slip: it is said once, on the first of its lines.
    said = answers.loc[is_anothers, ["file_sha256", "person_id", "answered_by"]].duplicated()
    return is_anothers & ~said.reindex(answers.index, fill_value=False)


RULE = Rule(
    title="An answer for somebody else",
    severity="please-check",
    scope="answer",
    asks="coordinator",
    fields=("typed",),
    looked_up=("outcome", "file_sha256", "answered_by", "number"),
    message='"{file}" came from {person_id} but answers what was put to {answered_by}, first question {number} with'
    ' "{seen}". A file changes only the rows of its sender, so nothing was changed. If {answered_by} did say so,'
    " write it into your own questions.xlsx; if not, please ask how the letter came to {person_id}.",
    why="only its recorder can say what a row should be, and letters are for their addressee's eyes",
    source="common practice",
    examples=Examples(
        finds="""
            file_sha256 | person_id | answered_by | number | typed | outcome         | is_open | found
            5a          | ben       | anna        | 3      | yes   | somebody else's | yes     | yes
            5a          | ben       | anna        | 4      | right | somebody else's | yes     | no
            5a          | ben       | cleo        | 1      | yes   | somebody else's | no      | yes
            6b          | ben       | anna        | 3      | yes   | somebody else's | yes     | yes
            5a          | dora      | anna        | 3      | yes   | somebody else's | yes     | yes
        """,
        leaves="""
            person_id | answered_by | typed | outcome
            anna      | anna        | yes   | applied
        """,
        near_misses="""
            person_id   | answered_by | ref     | typed | outcome
            coordinator | anna        | 53Y3ZEC | yes   | applied
            ben         |             | ?       | yes   | no such question
        """,
    ),
)
