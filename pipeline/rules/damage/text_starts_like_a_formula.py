"""A text that a spreadsheet would take for a formula."""

import pandas as pd

from pipeline.rule import Examples, Rule

_SIGNS = "=+-@＝＋－＠"
_NUMBER = r"[+\-＋－] ?[0-9]+(?:[.,][0-9]+)?"


def finds(x: pd.Series) -> pd.Series:
    starts = x[x.str.startswith(tuple(_SIGNS))]
    # A lone dash stands for nothing and asks for nothing.
    is_text = (starts.str.lstrip(_SIGNS + " ") != "") & ~starts.str.fullmatch(_NUMBER)
    return is_text.reindex(x.index, fill_value=False)


def suggests(found: pd.Series) -> dict[str, pd.Series]:
    return {str(found.name): found.str.lstrip(_SIGNS + " ")}


RULE = Rule(
    title="A text that starts like a formula",
    severity="please-check",
    scope="cell",
    asks="tagger",
    fields=("locality", "municipality", "county", "stateProvince", "recordedBy", "nectarPlant"),
    withholds=("locality", "municipality", "county", "stateProvince", "recordedBy", "nectarPlant"),
    message='A text in row {row} starts with a sign that makes a spreadsheet run it as a formula ("{seen}"),'
    ' so it cannot go out as it is. May we write "{suggestion}"?',
    unsuggested="A text in row {row} starts with a sign that makes a spreadsheet run it as a formula"
    ' ("{seen}"), so it cannot go out as it is. How should it read?',
    why="text that starts so may run as a program on the computer of whoever opens it",
    source="OWASP, CSV injection; ASVS 5, item 1.2.10; CWE-1236",
    examples=Examples(
        finds="""
            locality           | suggests locality
            =HYPERLINK("x")    | HYPERLINK("x")
            - behind the barn  | behind the barn
            @mill pond         | mill pond
            +the old quay      | the old quay
            ＝SUM(A1)          | SUM(A1)

            nectarPlant | suggests nectarPlant
            -aster      | aster
        """,
        leaves="""
            locality
            Mill pond
        """,
        near_misses="""
            locality
            Mill-pond
            -
            --
            -64.8
            +12
            ""
        """,
    ),
)
