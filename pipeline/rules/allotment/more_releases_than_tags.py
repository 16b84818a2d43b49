"""A person with more released tags than the person and the group were given."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(x: pd.DataFrame) -> pd.Series:
    is_of_now = (x["tag_season"] == "") | (x["tag_season"] == x["season"])
    is_code = (x["recordKind"] == "release") & (x["tagCode"] != "") & is_of_now & (x["person_id"] != "")
    tags = x.loc[is_code].drop_duplicates(["person_id", "tagCode"])
    too_many = tags.groupby("person_id")["tagCode"].transform("size") > tags["tags_of_person"]
    # It is said once a person, on the first of the rows.
    first = tags.loc[too_many].drop_duplicates("person_id").index
    return pd.Series(x.index.isin(first), x.index)


RULE = Rule(
    title="More releases than tags",
    severity="please-check",
    scope="person",
    asks="coordinator",
    fields=("tagCode",),
    looked_up=("tag_season", "season", "tags_of_person"),
    message="{person_id} has releases with more different tags than the {tags_of_person} that were handed"
    " out to this person and the others of the group, so the count of tags would not close. Did some come"
    " from somebody else?",
    why="tags handed on without a note look like tags that appeared from nowhere",
    source="the programme's list of tags",
    examples=Examples(
        finds="""
            tagCode | person_id | tags_of_person | tag_season | found
            SM0042  | anna      | 2              | 2026       | yes
            SM0043  | anna      | 2              | 2026       | no
            SM0142  | anna      | 2              |            | no
            SM0050  | ben       | 2              | 2026       | no

            tagCode | person_id | tags_of_person | found
            SM0042  | anna      | 1              | no
            SM0042  | ben       | 1              | yes
            SM0043  | ben       | 1              | no
        """,
        leaves="""
            tagCode | person_id | tags_of_person
            SM0042  | anna      | 2
            SM0043  | anna      | 2
        """,
        near_misses="""
            tagCode | person_id | tags_of_person | tag_season | recordKind
            SM0042  | anna      | 1              | 2026       | release
            SM0042  | anna      | 1              | 2026       | release
            SM0043  | anna      | 1              | 2025       | release
            SM0044  | anna      | 1              | 2026       | find
            ""      | anna      | 1              | 2026       | release
            SM0042  | ben       |                | 2026       | release
            SM0043  | ben       |                | 2026       | release
            SM0050  |           | 0              | 2026       | release
        """,
    ),
)
