"""A cell that holds what a spreadsheet writes when a formula fails, in a tag, species, day or position."""

import pandas as pd

from pipeline.rule import Examples, Rule

# In English, French and Spanish; #### is a number that its column was too narrow to show.
_FAILED = (
    r"#(?:REF!|VALUE!|DIV/0!|NAME\?|NULL!|NUM!|N/A|SPILL!|CALC!|VALEUR!|NOM\?|NUL!|NOMBRE!|N/D"
    r"|¡REF!|¡VALOR!|¡DIV/0!|¿NOMBRE\?|¡NULO!|¡NUM!|##+)|Err:[0-9]{3}"
)


def finds(x: pd.Series) -> pd.Series:
    starts = x.str.startswith(("#", "Err:"))
    return x[starts].str.fullmatch(_FAILED).reindex(x.index, fill_value=False)


RULE = Rule(
    title="A needed cell in which a formula failed",
    severity="must-answer",
    scope="cell",
    asks="tagger",
    fields=("tagCode", "eventDate", "scientificName", "decimalLatitude", "decimalLongitude"),
    message='A cell of row {row} shows "{seen}", which a spreadsheet writes when a formula fails, and'
    " without its value we cannot use the row. Please type the value itself.",
    why="a failed formula says nothing about the tag, the species, the day or the place",
    source="common practice",
    examples=Examples(
        finds="""
            tagCode
            #N/A
            #REF!

            eventDate
            #¡VALOR!
            ########

            decimalLatitude
            Err:502
        """,
        leaves="""
            tagCode
            SM0042

            decimalLatitude
            45.5
        """,
        near_misses="""
            tagCode
            #SM0042
            #42
            ##
            N/A
            ""
        """,
    ),
)
