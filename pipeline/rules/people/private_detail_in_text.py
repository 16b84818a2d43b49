"""An e-mail address or a telephone number in a text."""

import pandas as pd

from pipeline.rule import Examples, Rule

# Telephone numbers as in Canada and the United States, in France, in Mexico, and with a country's number.
_DETAIL = (
    r"[^\s@]+@[^\s@]+\.[A-Za-z]{2,}"
    r"|(?:^|[^0-9.])\(?[0-9]{3}\)?[ .-]{1,2}[0-9]{3}[ .-][0-9]{4}(?:$|[^0-9])"
    r"|(?:^|[^0-9])0[1-9](?:[ .-][0-9]{2}){4}(?:$|[^0-9])"
    r"|(?:^|[^0-9])[0-9]{2}[ .-][0-9]{4}[ .-][0-9]{4}(?:$|[^0-9])"
    r"|\+[0-9]{1,3}(?:[ .-][0-9]{2,4}){3,4}(?:$|[^0-9])"
)
_HINT = r"@|[0-9][ .-][0-9]"  # cheap, and in every detail


def finds(x: pd.Series) -> pd.Series:
    texts = x[x.str.contains(_HINT)].drop_duplicates()
    return x.isin(texts[texts.str.contains(_DETAIL)])


RULE = Rule(
    title="A private detail in a text",
    severity="for-information",
    scope="cell",
    asks="tagger",
    fields=("occurrenceRemarks", "locality"),
    message="A text in row {row} seems to hold an e-mail address or a telephone number. It stays in our"
    " private file and never goes to the public one. There is nothing to do.",
    why="whoever writes a number into a note has not asked for it to be published",
    source="common practice",
    examples=Examples(
        finds="""
            occurrenceRemarks
            ask anna@example.org
            call 506-555-0142
            call (506) 555-0142.
            tél. 01 23 45 67 89
            llame al 55 1234 5678
            +52 55 1234 5678

            locality
            farm, 506 555 0142
        """,
        leaves="""
            occurrenceRemarks
            on goldenrod, wing a little worn
        """,
        near_misses="""
            occurrenceRemarks
            seen @ the pond
            2026-09-03 14:05
            45.5012 -64.8034
            45.501-64.8034
            tags 0042-0045
            506 555 butterflies
            ""
        """,
    ),
)
