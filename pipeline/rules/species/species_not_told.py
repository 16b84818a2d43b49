"""A row that does not tell the species: a word for nothing, or nothing at all."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(rows: pd.DataFrame) -> pd.Series:
    return (rows["scientificName"] == "") & ~rows["species_column_is_missing"]


RULE = Rule(
    title="A row without a species",
    severity="must-answer",
    scope="row",
    asks="tagger",
    fields=("scientificName",),
    looked_up=("species_column_is_missing",),
    message="Row {row} does not tell which butterfly it was, and without a species a record says nothing. Which one"
    " was it? An everyday name or the genus alone is welcome.",
    why="a record without a name belongs to no species, and portals send it back",
    source="Darwin Core, scientificName; a blank cell stands for the programme's species, where it has one",
    examples=Examples(
        finds="""
            scientificName | scientificName_written
            ""             | unknown
            ""             | ?
            ""             | ""
        """,
        leaves="""
            scientificName   | scientificName_written
            Danaus plexippus | ""
            Danaus plexippus | monarch
        """,
        near_misses="""
            scientificName | species_column_is_missing | scientificName_doubt
            ""             | yes                       |
            monark         | no                        | not-in-list
        """,
    ),
)
