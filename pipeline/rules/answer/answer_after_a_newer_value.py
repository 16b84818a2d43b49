"""An answer about a value that was changed after it was asked about."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(answers: pd.DataFrame) -> pd.Series:
    is_conflict = (answers["outcome"] == "conflict") & (answers["now"] != answers["answered"])
    # Of several answers about one cell the last is asked about.
    is_older = answers.loc[is_conflict, ["key", "field"]].duplicated(keep="last")
    return is_conflict & ~is_older.reindex(answers.index, fill_value=False)


def stands_on(found: pd.DataFrame) -> pd.Series:
    """The field of the cell that was asked about."""
    return found["field"]


def suggests(found: pd.DataFrame) -> dict[str, pd.Series]:
    return {"now": found["answered"]}


RULE = Rule(
    title="An answer after a newer value",
    severity="must-answer",
    scope="answer",
    asks="coordinator",
    fields=("now",),
    looked_up=("outcome", "field", "number", "was", "answered", "typed"),
    message='Row {row} of "{file}" ({person_id}) said "{was}" under {field} when question {number} was asked, and by'
    ' now it says "{now}". The answer, "{answered}", was given to the earlier value and may not fit the newer one,'
    " so nothing was changed. Which one holds, the answer or what stands there now?",
    unsuggested='Row {row} of "{file}" ({person_id}) said "{was}" under {field} when question {number} was asked,'
    ' and by now it says "{now}". The answer, "{typed}", was given to the earlier value and names no other, so'
    " nothing was changed. Is what stands there now right?",
    why="an answer given to one value says nothing for sure about another",
    source="common practice",
    examples=Examples(
        finds="""
            key | field     | outcome  | was        | now        | answered   | suggests now | found
            k1  | eventDate | conflict | 2026-03-09 | 2026-09-04 | 2026-09-03 | 2026-09-03   | yes
            k2  | sex       | conflict |            | male       |            |              | yes
            k3  | sex       | conflict | male       | female     | male       | male         | yes
            k3  | eventDate | conflict | 2026-03-09 | 2026-09-04 | 2026-09-01 |              | no
            k3  | eventDate | conflict | 2026-03-09 | 2026-09-04 | 2026-09-03 | 2026-09-03   | yes
        """,
        leaves="""
            key | field     | outcome     | was        | now        | answered
            k1  | eventDate | applied     | 2026-03-09 | 2026-09-03 | 2026-09-03
            k2  | eventDate | already so  | 2026-03-09 | 2026-09-03 | 2026-09-03
        """,
        near_misses="""
            key | field     | outcome       | was        | now        | answered
            k1  | eventDate | conflict      | 2026-03-09 | 2026-09-03 | 2026-09-03
            k2  | eventDate | settled       | 2026-03-09 | 2026-09-04 | 2026-09-03
            k3  | eventDate | row withdrawn | 2026-03-09 | 2026-09-04 | 2026-09-03
            k4  | sex       | conflict      | male       |            |
        """,
    ),
)
