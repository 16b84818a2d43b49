"""A release of a known species that this season's tags are not meant for."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(rows: pd.DataFrame) -> pd.Series:
    is_known = (rows["scientificName"] != "") & (rows["scientificName_doubt"] == "")
    is_other = ~rows["species_is_allowed"] & ~rows["species_is_genus"]
    return (rows["recordKind"] == "release") & is_known & is_other


RULE = Rule(
    title="A species that is not tagged this season",
    severity="must-answer",
    scope="row",
    asks="tagger",
    fields=("scientificName",),
    looked_up=("scientificName_doubt", "species_is_allowed", "species_is_genus"),
    message="{scientificName} (row {row}) is not among the species that we tag this season, so we wonder"
    " whether another was meant. If it was let go with one of our tags, please say so.",
    why="a species outside the list is more often a slip or a look-alike",
    source="the programme's settings",
    examples=Examples(
        finds="""
            scientificName | species_is_allowed
            Vanessa cardui | no
        """,
        leaves="""
            scientificName   | species_is_allowed
            Danaus plexippus | yes
                             | yes
        """,
        near_misses="""
            scientificName | scientificName_doubt | species_is_allowed | species_is_genus | recordKind
            Vanessa        |                      | no                 | yes              | release
            Vanesa cardui  | not-in-list          | no                 | no               | release
                           |                      | no                 | no               | release
            Vanessa cardui |                      | no                 | no               | find
        """,
    ),
)
