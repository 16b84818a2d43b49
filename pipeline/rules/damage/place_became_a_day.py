"""A day where a place should be named."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(cells: pd.Series) -> pd.Series:
    return cells.str.fullmatch(r"\d{4}-\d\d-\d\d(?:T.*)?")


RULE = Rule(
    title="A day in the place of a place",
    severity="please-check",
    scope="cell",
    asks="tagger",
    fields=("locality", "municipality", "county"),
    withholds=("locality", "municipality", "county"),
    message='Row {row} has a day ("{seen}") where a place should be, so it stays out of the published record for now.'
    " The columns may have moved, or the spreadsheet took a short name for a day. What should it say?",
    why="spreadsheets rewrite what looks like a day without asking, and one cell put in moves all behind it",
    source="mess found in real field sheets: shifted columns, words turned into a date",
    examples=Examples(
        finds="""
            locality   | municipality        | county
            2026-05-06 | Sackville           |
                       | 2026-09-03T14:05:00 |
        """,
        leaves="""
            locality     | municipality | county
            Mill Pond    | Sackville    | Kings
            Fort Road 12 |              |
        """,
        near_misses="""
            locality           | municipality
            2026-05-06 meadow  | 2026
            plot 2026-05-06    | Sackville
        """,
    ),
)
