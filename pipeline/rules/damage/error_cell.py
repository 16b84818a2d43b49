"""A cell that holds what a spreadsheet writes when a formula fails, outside the needed fields."""

import pandas as pd

from pipeline.rule import Examples, Rule

# In English, French and Spanish; #### is a number that its column was too narrow to show.
_FAILED = (
    r"#(?:REF!|VALUE!|DIV/0!|NAME\?|NULL!|NUM!|N/A|SPILL!|CALC!|VALEUR!|NOM\?|NUL!|NOMBRE!|N/D"
    r"|¡REF!|¡VALOR!|¡DIV/0!|¿NOMBRE\?|¡NULO!|¡NUM!|##+)|Err:[0-9]{3}"
)

FIELDS = (
    "eventTime", "captureDate", "emergenceDate", "sex", "lifeStage", "vitality", "origin", "geodeticDatum",
    "coordinateUncertaintyInMeters", "minimumElevationInMeters", "locality", "municipality", "county",
    "stateProvince", "countryCode", "postalCode", "recordedBy", "individualCount", "behavior",
    "occurrenceRemarks", "forewingLength", "wingSpan", "wingMeasured", "bodyMass", "wingWear", "condition",
    "parasiteCheck", "parasiteMethod", "nectarPlant", "tagWing", "tagFate", "effortHours", "untaggedSeen",
    "contact",
)  # fmt: skip


def finds(x: pd.Series) -> pd.Series:
    starts = x.str.startswith(("#", "Err:"))
    return x[starts].str.fullmatch(_FAILED).reindex(x.index, fill_value=False)


RULE = Rule(
    title="A cell in which a formula failed",
    severity="please-check",
    scope="cell",
    asks="tagger",
    fields=FIELDS,
    withholds=FIELDS,
    message='A cell of row {row} shows "{seen}", which a spreadsheet writes when a formula fails, so we'
    " could not read what you meant. Please type the value itself, or leave it empty if you did not note it.",
    why="a failed formula says nothing about the butterfly",
    source="common practice",
    examples=Examples(
        finds="""
            forewingLength
            #REF!
            #N/A
            ####

            locality
            #¡VALOR!
            Err:502
        """,
        leaves="""
            forewingLength
            51.5
        """,
        near_misses="""
            locality
            #1 Mill Road
            Err:5
            N/A
            ##
            ""
        """,
    ),
)
