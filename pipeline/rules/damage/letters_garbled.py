"""A name in which accented letters were saved in one code and read in another."""

import pandas as pd

from pipeline.rule import Examples, Rule
from pipeline.values.text import looks_garbled, repaired


def finds(x: pd.Series) -> pd.Series:
    return x.isin([text for text in x.unique() if looks_garbled(text)])


def suggests(found: pd.Series) -> dict[str, pd.Series]:
    better = {text: "" if looks_garbled(repaired(text)) else repaired(text) for text in found.unique()}
    return {str(found.name): found.map(better).astype("str")}


RULE = Rule(
    title="Garbled letters in a name",
    severity="please-check",
    scope="cell",
    asks="tagger",
    fields=("locality", "municipality", "recordedBy"),
    withholds=("locality", "municipality", "recordedBy"),
    message='Some letters in row {row} look garbled ("{seen}"), which happens when a file is saved in one'
    ' alphabet and opened in another. Should it read "{suggestion}"?',
    unsuggested='Some letters in row {row} look garbled ("{seen}"), which happens when a file is saved in'
    " one alphabet and opened in another. How should it read?",
    why="a place or a name should be published as it is spelt",
    source="common practice; Unicode 15, UTF-8",
    examples=Examples(
        finds="""
            municipality  | suggests municipality
            MontrÃ©al     | Montréal
            Pointe-Ã‰glise | Pointe-Église
            Montr�al      |
            MontrŽal      | Montréal
            MontrÈal      | Montréal
            Montr√©al     | Montréal
            forÛt         |
            MontrÃ©al �   |

            locality      | suggests locality
            Lâ€™Anse      | L’Anse

            recordedBy    | suggests recordedBy
            ZoÃ« Landry   | Zoë Landry
        """,
        leaves="""
            municipality
            Montréal
            Moncton
        """,
        near_misses="""
            locality
            Âge d'Or
            SÃO PAULO
            Château
            Weiß
            São João
            Bjørn Åse
            Miloš
            Smith—Jones
            12–14
            “the gate”
            Nº 5
            ""
        """,
    ),
)
