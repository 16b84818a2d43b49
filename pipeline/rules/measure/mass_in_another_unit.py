"""A mass far above any monarch's, as if it were in milligrams."""

import pandas as pd

from pipeline.rule import Examples, Rule

HEAVIEST = 2  # g, a wide margin
USUAL = (0.25, 0.75)  # g


def finds(rows: pd.DataFrame) -> pd.Series:
    return (rows["species"] == "Danaus plexippus") & (rows["grams"] > HEAVIEST)


def suggests(found: pd.DataFrame) -> dict[str, pd.Series]:
    grams = (found["grams"] / 1000).round(6)
    return {"bodyMass": grams.astype("str").where(grams.between(*USUAL), "")}


RULE = Rule(
    title="A mass in another unit",
    severity="please-check",
    scope="row",
    asks="tagger",
    fields=("bodyMass",),
    looked_up=("grams", "species"),
    withholds=("bodyMass",),
    message='The mass "{seen}" in row {row} is more than 2 g, and a monarch has about half a gram, so we'
    " keep it out of the published record for now. Was it weighed in milligrams, so that it is"
    " {suggestion} g?",
    unsuggested='The mass "{seen}" in row {row} is more than 2 g, and a monarch has about half a gram, so'
    " we keep it out of the published record for now. In which unit was it weighed?",
    why="grams and milligrams are a thousand apart",
    source="from memory, 0.25 to 0.75 g; 2 g is a wide margin of ours",
    examples=Examples(
        finds="""
            bodyMass | grams | species          | suggests bodyMass
            512      | 512   | Danaus plexippus | 0.512
            250      | 250   | Danaus plexippus | 0.25
            750      | 750   | Danaus plexippus | 0.75
            2.1      | 2.1   | Danaus plexippus |
            249      | 249   | Danaus plexippus |
            751      | 751   | Danaus plexippus |
        """,
        leaves="""
            bodyMass | grams | species
            0.5      | 0.5   | Danaus plexippus
                     |       | Danaus plexippus
        """,
        near_misses="""
            bodyMass | grams | species
            2        | 2     | Danaus plexippus
            512      | 512   | Vanessa cardui
        """,
    ),
)
