"""An everyday name that several species share."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(rows: pd.DataFrame) -> pd.Series:
    return rows["scientificName_doubt"] == "name-of-several"


RULE = Rule(
    title="A name of several species",
    severity="must-answer",
    scope="row",
    asks="tagger",
    fields=("scientificName",),
    looked_up=("scientificName_doubt", "species_of_name"),
    message='"{seen}" in row {row} is a name for more than one species here ({species_of_name}), and a'
    " record can stand for only one. Which one was it?",
    why="everyday names are shared, scientific names are not",
    source="the programme's list of species",
    examples=Examples(
        finds="""
            scientificName | scientificName_doubt | species_of_name
            lady           | name-of-several      | Vanessa cardui, Vanessa virginiensis
        """,
        leaves="""
            scientificName
            Vanessa cardui

        """,
        near_misses="""
            scientificName | scientificName_doubt
            Danaus plexipu | not-in-list
            lady?          | unsure
        """,
    ),
)
