"""A word in the origin column that does not tell wild from reared, bred or bought."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(rows: pd.DataFrame) -> pd.Series:
    return (rows["origin_doubt"] != "") & (rows["origin_kind"] != "e")


def suggests(found: pd.DataFrame) -> dict[str, pd.Series]:
    is_doubted = found["origin_doubt"] == "unsure"
    return {"origin": found["nearest_origin"].where(~is_doubted, found["origin_candidates"])}


RULE = Rule(
    title="A word for the origin that we do not know",
    severity="must-answer",
    scope="row",
    asks="tagger",
    fields=("origin",),
    looked_up=("origin_doubt", "origin_kind", "origin_candidates", "nearest_origin"),
    by_word=True,
    message='"{seen}" in row {row} is not one of our words for the origin, and wild and bred butterflies'
    " must never be mixed. Did you mean {suggestion}?",
    unsuggested='"{seen}" in row {row} is not one of our words for the origin, and wild and bred'
    " butterflies must never be mixed. Which fits: wild; reared, from a wild egg or caterpillar; bred,"
    " from parents kept indoors; or bought?",
    why="whether a butterfly is wild decides where its record may go",
    source="the programme's word list",
    examples=Examples(
        finds="""
            origin    | origin_doubt  | nearest_origin | origin_candidates | suggests origin
            raered    | not-in-list   | reared         |                   | reared
            from Lucy | not-in-list   |                |                   |
            wild?     | unsure        |                | wild              | wild
            C         | two-languages |                |                   |
        """,
        leaves="""
            origin
            wild
            bought

        """,
        near_misses="""
            origin | origin_doubt | origin_kind
            #NAME? | not-in-list  | e
            reared |              | t
        """,
    ),
)
