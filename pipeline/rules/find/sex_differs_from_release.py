"""A find of the other sex than its release."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(x: pd.DataFrame) -> pd.Series:
    sexes = ["female", "male"]
    are_known = x["sex"].isin(sexes) & x["release_sex"].isin(sexes)
    return (x["recordKind"] == "find") & x["has_release"] & are_known & (x["sex"] != x["release_sex"])


RULE = Rule(
    title="Another sex than at the release",
    severity="please-check",
    scope="season",
    asks="finder",
    fields=("sex",),
    looked_up=("tagCode", "has_release", "release_sex"),
    withholds=("sex",),
    message='Your find of tag {tagCode} says "{seen}", the release says {release_sex}, so a code may have'
    " been misread. A male carries a dark spot on a vein of each hindwing. Is there a photo to look at?",
    why="a butterfly does not change its sex, but a code is easily misread",
    source="common practice",
    examples=Examples(
        finds="""
            tagCode | recordKind | has_release | sex    | release_sex
            SM0042  | find       | yes         | male   | female
            SM0043  | find       | yes         | female | male
        """,
        leaves="""
            tagCode | recordKind | has_release | sex  | release_sex
            SM0042  | find       | yes         | male | male
        """,
        near_misses="""
            tagCode | recordKind | has_release | sex    | release_sex
            SM0042  | find       | yes         |        | female
            SM0043  | find       | yes         | male   |
            SM0044  | find       | yes         | F?     | male
            SM0045  | find       | yes         | female | M?
            SM0046  | find       | no          | male   | female
            SM0047  | release    | yes         | male   | female
        """,
    ),
)
