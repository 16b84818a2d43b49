"""A name in the species column that is on no list of ours."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(rows: pd.DataFrame) -> pd.Series:
    is_damaged = rows["scientificName_kind"].isin(["e", "f"])  # asked about by the rules on damage
    return rows["scientificName_doubt"].isin(["not-in-list", "unsure"]) & ~is_damaged


def suggests(found: pd.DataFrame) -> dict[str, pd.Series]:
    is_doubted = found["scientificName_doubt"] == "unsure"
    return {"scientificName": found["nearest_species"].where(~is_doubted, found["scientificName_candidates"])}


RULE = Rule(
    title="A species name that we do not know",
    severity="must-answer",
    scope="row",
    asks="tagger",
    fields=("scientificName",),
    looked_up=("scientificName_doubt", "scientificName_kind", "scientificName_candidates", "nearest_species"),
    message='We could not find the name "{seen}" (row {row}) in our list, and without a species a record'
    " says nothing. Did you mean {suggestion}?",
    unsuggested='We could not tell the species from "{seen}" (row {row}), and without a species a record'
    " says nothing. Which butterfly was it? An everyday name or the genus alone is welcome.",
    why="a misspelt name may be one of several, so it is not ours to mend",
    source="the programme's list of species",
    examples=Examples(
        finds="""
            scientificName  | scientificName_doubt | nearest_species  | suggests scientificName
            Danaus plexipus | not-in-list          | Danaus plexippus | Danaus plexippus
            big orange one  | not-in-list          |                  |

            scientificName | scientificName_doubt | scientificName_candidates | suggests scientificName
            monarch?       | unsure               | Danaus plexippus          | Danaus plexippus
        """,
        leaves="""
            scientificName
            Danaus plexippus

        """,
        near_misses="""
            scientificName | scientificName_doubt | scientificName_kind
            lady           | name-of-several      | t
            #REF!          | not-in-list          | e
            =B2            | not-in-list          | f
            Danaus         |                      | t
        """,
    ),
)
