"""A find of another species than its release."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(x: pd.DataFrame) -> pd.Series:
    found, released = x["scientificName"], x["release_species"]
    are_known = (found != "") & (released != "") & (x["scientificName_doubt"] == "")
    # A name to genus agrees with every species of it.
    is_genus = ~found.str.contains(" ", regex=False) | ~released.str.contains(" ", regex=False)
    is_same_genus = found.str.replace(" .*", "", regex=True) == released.str.replace(" .*", "", regex=True)
    differs = (found != released) & ~(is_genus & is_same_genus)
    return (x["recordKind"] == "find") & x["has_release"] & are_known & differs


RULE = Rule(
    title="Another species than at the release",
    severity="must-answer",
    scope="season",
    asks="finder",
    fields=("scientificName",),
    looked_up=("tagCode", "scientificName_doubt", "has_release", "release_species"),
    message="Your find of tag {tagCode} is given as {scientificName}, but that tag was put on a"
    " {release_species}, so the code or the name must be a slip. Could you look at both once more?",
    why="a code read wrongly often leads to a release of another species",
    source="common practice",
    examples=Examples(
        finds="""
            tagCode | recordKind | has_release | scientificName   | release_species
            SM0042  | find       | yes         | Vanessa cardui   | Danaus plexippus
            SM0043  | find       | yes         | Danaus gilippus  | Danaus plexippus
            SM0044  | find       | yes         | Vanessa          | Danaus plexippus
        """,
        leaves="""
            tagCode | recordKind | has_release | scientificName   | release_species
            SM0042  | find       | yes         | Danaus plexippus | Danaus plexippus
        """,
        near_misses="""
            tagCode | recordKind | has_release | scientificName   | release_species  | scientificName_doubt
            SM0042  | find       | yes         | Danaus           | Danaus plexippus |
            SM0043  | find       | yes         | Danaus plexippus | Danaus           |
            SM0044  | find       | yes         |                  | Danaus plexippus |
            SM0045  | find       | yes         | Danaus plexippus |                  |
            SM0046  | find       | yes         | Danaus plexipus  | Danaus plexippus | not-in-list
            SM0047  | find       | no          | Vanessa cardui   | Danaus plexippus |
            SM0048  | release    | yes         | Vanessa cardui   | Danaus plexippus |
        """,
    ),
)
