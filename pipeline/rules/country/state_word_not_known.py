"""A word in the state or province column that is on no list of ours."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(rows: pd.DataFrame) -> pd.Series:
    return (rows["stateProvince_doubt"] != "") & (rows["stateProvince_kind"] != "e")


def suggests(found: pd.DataFrame) -> dict[str, pd.Series]:
    return {"stateProvince": found["nearest_state"]}


RULE = Rule(
    title="A word for the state or province that we do not know",
    severity="please-check",
    scope="row",
    asks="tagger",
    fields=("stateProvince",),
    looked_up=("stateProvince_doubt", "stateProvince_kind", "nearest_state"),
    withholds=("stateProvince",),
    message='We could not tell the state or province from "{seen}" (row {row}), so none is published from'
    " this cell for now. Did you mean {suggestion}?",
    unsuggested='We could not tell the state or province from "{seen}" (row {row}), so none is published'
    " from this cell for now. Which one was it, written out?",
    why="short forms are shared by several states, and a portal compares the name with the point",
    source="ISO 3166-2; Darwin Core, stateProvince",
    examples=Examples(
        finds="""
            stateProvince | stateProvince_doubt | nearest_state | suggests stateProvince
            Nova Scotai   | not-in-list         | Nova Scotia   | Nova Scotia
            the island    | not-in-list         |               |
            MI            | name-of-several     |               |
            Maine?        | unsure              |               |
        """,
        leaves="""
            stateProvince
            Nova Scotia

        """,
        near_misses="""
            stateProvince | stateProvince_doubt | stateProvince_kind
            #N/A          | not-in-list         | e
            Maine         |                     | t
        """,
    ),
)
