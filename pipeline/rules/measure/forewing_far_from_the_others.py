"""A forewing far from the others of the same species in its sheet, though a possible length by itself."""

import pandas as pd

from pipeline.rule import Examples, Rule

ENOUGH = 10
FAR = 5 * 1.4826  # five standard deviations, as estimated from the median absolute deviation


def finds(rows: pd.DataFrame) -> pd.Series:
    length, span = rows["millimetres"], rows["span_millimetres"]
    is_crossed = (length > span) & (length < 3 * span)
    is_outside = (rows["species"] == "Danaus plexippus") & ~length.between(40, 60)
    groups = [rows["table_id"], rows["species"]]
    others = length.groupby(groups)
    distance = (length - others.transform("median")).abs()
    spread = distance.groupby(groups).transform("median")
    is_far = (spread > 0) & (distance > FAR * spread) & (others.transform("count") >= ENOUGH)
    return is_far & ~is_crossed & ~is_outside


RULE = Rule(
    title="A forewing far from the others",
    severity="please-check",
    scope="sheet",
    asks="tagger",
    fields=("forewingLength",),
    looked_up=("millimetres", "span_millimetres", "species"),
    withholds=("forewingLength",),
    message='The forewing in row {row} is "{seen}", far from the other wings of your sheet, so we keep it'
    " out of the published record for now. Is it a slip of the pen? If it was measured so, tell us.",
    why="somebody who measures alike all season rarely meets one wing so far from the rest",
    source="our proposal: more than 5 x 1.4826 median absolute deviations from the median, ten values or more",
    examples=Examples(
        finds="""
            forewingLength | millimetres | wingSpan | span_millimetres | species          | found
            50             | 50          |          |                  | Danaus plexippus | no
            51             | 51          |          |                  | Danaus plexippus | no
            52             | 52          |          |                  | Danaus plexippus | no
            50             | 50          |          |                  | Danaus plexippus | no
            51             | 51          |          |                  | Danaus plexippus | no
            52             | 52          |          |                  | Danaus plexippus | no
            50             | 50          |          |                  | Danaus plexippus | no
            51             | 51          |          |                  | Danaus plexippus | no
            52             | 52          |          |                  | Danaus plexippus | no
            50             | 50          |          |                  | Danaus plexippus | no
            51             | 51          |          |                  | Danaus plexippus | no
            52             | 52          |          |                  | Danaus plexippus | no
            41             | 41          |          |                  | Danaus plexippus | yes
            40             | 40          | 90       | 90               | Danaus plexippus | yes
            60             | 60          |          |                  | Danaus plexippus | yes
            59             | 59          | 59       | 59               | Danaus plexippus | yes
            60             | 60          | 20       | 20               | Danaus plexippus | yes
            41             | 41          |          |                  | Vanessa cardui   | no

            forewingLength | millimetres | wingSpan | span_millimetres | species          | found
            30             | 30          |          |                  | Vanessa cardui   | no
            31             | 31          |          |                  | Vanessa cardui   | no
            32             | 32          |          |                  | Vanessa cardui   | no
            30             | 30          |          |                  | Vanessa cardui   | no
            31             | 31          |          |                  | Vanessa cardui   | no
            32             | 32          |          |                  | Vanessa cardui   | no
            30             | 30          |          |                  | Vanessa cardui   | no
            31             | 31          |          |                  | Vanessa cardui   | no
            32             | 32          |          |                  | Vanessa cardui   | no
            22             | 22          |          |                  | Vanessa cardui   | yes
        """,
        leaves="""
            forewingLength | millimetres | species
            50             | 50          | Danaus plexippus
            51             | 51          | Danaus plexippus
            52             | 52          | Danaus plexippus
                           |             | Danaus plexippus
            41             | 41          | Danaus plexippus
        """,
        near_misses="""
            forewingLength | millimetres | species          | wingSpan | span_millimetres
            50             | 50          | Danaus plexippus |          |
            51             | 51          | Danaus plexippus |          |
            52             | 52          | Danaus plexippus |          |
            50             | 50          | Danaus plexippus |          |
            51             | 51          | Danaus plexippus |          |
            52             | 52          | Danaus plexippus |          |
            50             | 50          | Danaus plexippus |          |
            51             | 51          | Danaus plexippus |          |
            52             | 52          | Danaus plexippus |          |
            58             | 58          | Danaus plexippus |          |
            39             | 39          | Danaus plexippus |          |
            60             | 60          | Danaus plexippus | 55       | 55

            table_id | forewingLength | millimetres | species
            1        | 50             | 50          | Danaus plexippus
            1        | 51             | 51          | Danaus plexippus
            1        | 52             | 52          | Danaus plexippus
            1        | 50             | 50          | Danaus plexippus
            1        | 51             | 51          | Danaus plexippus
            1        | 52             | 52          | Danaus plexippus
            1        | 50             | 50          | Danaus plexippus
            1        | 51             | 51          | Danaus plexippus
            1        | 41             | 41          | Danaus plexippus
            2        | 52             | 52          | Danaus plexippus

            forewingLength | millimetres | species
            50             | 50          | Danaus plexippus
            50             | 50          | Danaus plexippus
            50             | 50          | Danaus plexippus
            50             | 50          | Danaus plexippus
            50             | 50          | Danaus plexippus
            50             | 50          | Danaus plexippus
            50             | 50          | Danaus plexippus
            50             | 50          | Danaus plexippus
            50             | 50          | Danaus plexippus
            59             | 59          | Danaus plexippus
        """,
    ),
)
