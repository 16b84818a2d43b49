"""A column whose values stand in other rows of the newer sheet than of the earlier one."""

import pandas as pd

from pipeline.rule import Examples, Rule

_FIELDS = (
    "eventDate", "tagCode", "recordKind", "eventTime", "captureDate", "emergenceDate", "sex", "lifeStage", "vitality",
    "origin", "scientificName", "decimalLatitude", "decimalLongitude", "geodeticDatum",
    "coordinateUncertaintyInMeters", "minimumElevationInMeters", "locality", "municipality", "county",
    "stateProvince", "countryCode", "postalCode", "recordedBy", "individualCount", "behavior", "occurrenceRemarks",
    "forewingLength", "wingSpan", "wingMeasured", "bodyMass", "wingWear", "condition", "parasiteCheck",
    "parasiteMethod", "nectarPlant", "tagWing", "tagFate", "effortHours", "untaggedSeen", "contact",
)  # fmt: skip


def finds(rows: pd.DataFrame) -> pd.Series:
    is_moved = rows["sorted_alone"].isin(_FIELDS)
    # What was put back says again what it said before.
    for field in rows.loc[is_moved, "sorted_alone"].unique():
        is_moved &= (rows["sorted_alone"] != field) | (rows[field] != rows["value_before"])
    return is_moved


def stands_on(found: pd.DataFrame) -> pd.Series:
    """The column that moved."""
    return found["sorted_alone"]


def suggests(found: pd.DataFrame) -> dict[str, pd.Series]:
    return {"sorted_alone": found["value_before"]}


RULE = Rule(
    title="A column sorted by itself",
    severity="must-answer",
    scope="row",
    asks="tagger",
    fields=("sorted_alone", *_FIELDS),
    looked_up=("value_before",),
    message='In your newer sheet the values of the column "{sorted_alone}" stand in other rows than in your earlier'
    " one, as if that column had been sorted by itself, and then a butterfly carries the values of another. Row"
    ' {row} now says "{seen}", where it said "{suggestion}" before. Shall we put the earlier values back?',
    unsuggested='From your earlier sheet to your newer one the column "{sorted_alone}" moved against the others, as'
    " if it had been sorted by itself, and then a butterfly carries the values of another. Row {row} now says"
    ' "{seen}" there. Please look at both sheets. Is the newer one right as it is? If not, please send it again'
    " with each row kept together.",
    why="values beside the wrong tag look right, and tell of another butterfly",
    source="common practice; at least five rows and 30 % of those that came again are our proposal",
    examples=Examples(
        finds="""
            tagCode | eventDate  | sex  | sorted_alone | value_before | suggests sorted_alone | found
            SM0042  | 2026-09-01 | male | eventDate    | 2026-09-14   | 2026-09-14            | yes
            SM0043  | 2026-09-14 | male | eventDate    | 2026-09-01   | 2026-09-01            | yes
            SM0044  | 2026-09-15 | male |              |              |                       | no
            SM0045  | 2026-09-03 |      | sex          | female       | female                | yes
            SM0046  | 2026-09-03 | male | sex          |              |                       | yes
            SM0047  | 2026-09-03 | male | tagCode      |              |                       | yes
        """,
        leaves="""
            tagCode | eventDate  | sorted_alone | value_before
            SM0042  | 2026-09-01 |              |
        """,
        near_misses="""
            tagCode | eventDate  | sex  | sorted_alone | value_before
            SM0042  | 2026-09-14 | male | eventDate    | 2026-09-14
            SM0043  | 2026-09-14 | male | sex          | male
            SM0044  | 2026-09-14 | male |              | 2026-09-01
            SM0045  | 2026-09-14 | male | tables       | 2026-09-01
        """,
    ),
)
