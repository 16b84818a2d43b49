"""A name that stops at the genus."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(rows: pd.DataFrame) -> pd.Series:
    return rows["species_is_genus"] & (rows["scientificName_doubt"] == "")


RULE = Rule(
    title="A name to the genus",
    severity="for-information",
    scope="row",
    asks="tagger",
    fields=("scientificName",),
    looked_up=("species_is_genus", "scientificName_doubt"),
    message='Row {row} names the butterfly to its genus, "{seen}". We keep it so, which is honest and'
    " useful; there is nothing to do.",
    why="a genus that is sure is worth more than a species that is not",
    source="Darwin Core, taxonRank",
    examples=Examples(
        finds="""
            scientificName | species_is_genus
            Danaus         | yes
        """,
        leaves="""
            scientificName
            Danaus plexippus

        """,
        near_misses="""
            scientificName | species_is_genus | scientificName_doubt
            Danaus?        | yes              | unsure
            Danaus eresimus | no              |
        """,
    ),
)
