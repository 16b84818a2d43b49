"""A word in the country column that is no country of our list."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(rows: pd.DataFrame) -> pd.Series:
    return (rows["countryCode_doubt"] != "") & (rows["countryCode_kind"] != "e")


def suggests(found: pd.DataFrame) -> dict[str, pd.Series]:
    return {"countryCode": found["nearest_country"]}


RULE = Rule(
    title="A word for the country that we do not know",
    severity="please-check",
    scope="row",
    asks="tagger",
    fields=("countryCode",),
    looked_up=("countryCode_doubt", "countryCode_kind", "nearest_country"),
    withholds=("countryCode",),
    message='We do not know "{seen}" (row {row}) as a country, so no country is published from this cell'
    " for now. Did you mean {suggestion}?",
    unsuggested='We do not know "{seen}" (row {row}) as a country, so no country is published from this'
    " cell for now. Which country was it?",
    why="portals take two-letter codes of a list and send back all else",
    source="ISO 3166-1; Darwin Core, countryCode",
    examples=Examples(
        finds="""
            countryCode | countryCode_doubt | nearest_country | suggests countryCode
            Cananda     | not-in-list       | CA              | CA
            overseas    | not-in-list       |                 |
            Canada?     | unsure            |                 |
        """,
        leaves="""
            countryCode
            CA

        """,
        near_misses="""
            countryCode | countryCode_doubt | countryCode_kind
            #N/A        | not-in-list       | e
            MX          |                   | t
        """,
    ),
)
