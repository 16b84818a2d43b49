"""A monarch's forewing shorter than 40 mm or longer than 60 mm."""

import pandas as pd

from pipeline.rule import Examples, Rule

SHORTEST, LONGEST = 40, 60  # mm
CENTIMETRES, INCHES, POINT_LOST = 10, 25.4, 0.1


def finds(rows: pd.DataFrame) -> pd.Series:
    length, span = rows["millimetres"], rows["span_millimetres"]
    is_outside = (length < SHORTEST) | (length > LONGEST)
    is_crossed = (length > span) & (length < 3 * span)
    return (rows["species"] == "Danaus plexippus") & is_outside & ~is_crossed


def suggests(found: pd.DataFrame) -> dict[str, pd.Series]:
    """The length as centimetres, as inches, or without its point, if exactly one lands inside."""
    read_as = (found["millimetres"] * by for by in (CENTIMETRES, INCHES, POINT_LOST))
    lengths = pd.concat(read_as, axis=1).round(2)
    inside = lengths.where(lengths.ge(SHORTEST) & lengths.le(LONGEST))
    only = inside.max(axis=1)  # no length lands inside in two of these ways
    return {"forewingLength": only.astype("str").str.removesuffix(".0").where(only.notna(), "")}


RULE = Rule(
    title="A forewing outside the usual lengths",
    severity="please-check",
    scope="row",
    asks="tagger",
    fields=("forewingLength",),
    looked_up=("millimetres", "span_millimetres", "species"),
    withholds=("forewingLength",),
    message='The forewing in row {row} is "{seen}", outside the 40 to 60 mm of nearly all monarchs, so we'
    " keep it out of the published record for now. Was it measured in another unit, or did a point slip:"
    " is it {suggestion} mm?",
    unsuggested='The forewing in row {row} is "{seen}", outside the 40 to 60 mm of nearly all monarchs, so'
    " we keep it out of the published record for now. Could you look at it once more? If it is right, tell"
    " us so.",
    why="a unit or a point that slipped changes averages more than any butterfly does",
    source="from memory, 40 to 60 mm; means of 48.5 to 53 mm in Altizer & Davis 2010, seen second hand",
    examples=Examples(
        finds="""
            forewingLength | millimetres | species          | suggests forewingLength
            5.1            | 5.1         | Danaus plexippus | 51
            2              | 2           | Danaus plexippus | 50.8
            515            | 515         | Danaus plexippus | 51.5
            39.9           | 39.9        | Danaus plexippus |
            60.1           | 60.1        | Danaus plexippus |
            4              | 4           | Danaus plexippus | 40
            600            | 600         | Danaus plexippus | 60
            0              | 0           | Danaus plexippus |
            -51            | -51         | Danaus plexippus |

            forewingLength | millimetres | wingSpan | span_millimetres | species          | suggests forewingLength
            95             | 95          | 190      | 190              | Danaus plexippus |
            510            | 510         | 100      | 100              | Danaus plexippus | 51
            61             | 61          | 61       | 61               | Danaus plexippus |
            90             | 90          | 30       | 30               | Danaus plexippus |
        """,
        leaves="""
            forewingLength | millimetres | species
            51.5           | 51.5        | Danaus plexippus
                           |             | Danaus plexippus
            about 50       |             | Danaus plexippus
        """,
        near_misses="""
            forewingLength | millimetres | species
            40             | 40          | Danaus plexippus
            60             | 60          | Danaus plexippus
            35             | 35          | Vanessa cardui
            35             | 35          |

            forewingLength | millimetres | wingSpan | span_millimetres | species
            98             | 98          | 51       | 51               | Danaus plexippus
        """,
    ),
)
