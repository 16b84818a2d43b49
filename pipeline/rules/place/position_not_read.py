"""A latitude or longitude that we could not read."""

import pandas as pd

from pipeline.rule import Examples, Rule

UNREAD = ["not-a-number", "other-notation", "minutes-over-59", "wrong-axis"]
DAMAGED = ["e", "f"]  # asked about by the rules on damage


def finds(rows: pd.DataFrame) -> pd.Series:
    return _is_unread(rows, "decimalLatitude") | _is_unread(rows, "decimalLongitude")


def _is_unread(rows: pd.DataFrame, field: str) -> pd.Series:
    return rows[f"{field}_doubt"].isin(UNREAD) & ~rows[f"{field}_kind"].isin(DAMAGED)


def stands_on(found: pd.DataFrame) -> pd.Series:
    """The longitude only where the latitude was read."""
    latitude = pd.Series("decimalLatitude", index=found.index, dtype="str")
    return latitude.where(_is_unread(found, "decimalLatitude"), "decimalLongitude")


RULE = Rule(
    title="A position that we could not read",
    severity="must-answer",
    scope="row",
    asks="tagger",
    fields=("decimalLatitude", "decimalLongitude"),
    looked_up=(
        "decimalLatitude_doubt",
        "decimalLongitude_doubt",
        "decimalLatitude_kind",
        "decimalLongitude_kind",
    ),
    message='We could not read the position in row {row} (latitude "{decimalLatitude}", longitude'
    ' "{decimalLongitude}"), and a find is measured from it. Please write it as on a map, like 45.8312 and'
    " -64.2105, or with letters, like 45°49.9'N and 64°12.6'W; the name of a town will do as well.",
    why="a position that we guess at may lie in another province",
    source="ISO 6709; common practice",
    examples=Examples(
        finds="""
            decimalLatitude | decimalLatitude_doubt | decimalLongitude | decimalLongitude_doubt
            by the bridge   | not-a-number          | -64.21           |
            45.83           |                       | 64,2,1           | not-a-number
            45 72.5         | minutes-over-59       | -64.21           |
            64.21 W         | wrong-axis            | 45.83 N          | wrong-axis
            20T LR 1234     | other-notation        |                  |
        """,
        leaves="""
            decimalLatitude | decimalLongitude
            45.83           | -64.21
                            |
        """,
        near_misses="""
            decimalLatitude | decimalLatitude_doubt | decimalLatitude_kind | decimalLongitude
            -45.83 N        | sign-against-letter   | t                    | -64.21
            45.30           | two-readings          | t                    | -64.21
            95.83           | off-the-globe         | n                    | -64.21
            #N/A            | not-a-number          | e                    | -64.21
            =B2             | not-a-number          | f                    | -64.21
        """,
    ),
)
