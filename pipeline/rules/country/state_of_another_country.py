"""A state or province that the country beside it does not have."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(rows: pd.DataFrame) -> pd.Series:
    code, having = rows["countryCode"], rows["country_of_state"]
    is_in_doubt = (rows["countryCode_doubt"] != "") | (rows["stateProvince_doubt"] != "")
    # A point deep in another country is asked about there, and settles the country.
    point_decides = (rows["country_at_point"] != "") & (rows["km_outside_country"] > 5) & rows["is_in_region"]
    return (having != "") & ~is_in_doubt & ~_has_state(code, having) & ~point_decides


def _has_state(code: pd.Series, having: pd.Series) -> pd.Series:
    """Whether the code is among the codes of `having` (a blank is), one look for each country."""
    has_state = pd.Series(False, index=code.index)
    for country in code.unique():
        has_state |= (code == country) & having.str.contains(country, regex=False)
    return has_state


def suggests(found: pd.DataFrame) -> dict[str, pd.Series]:
    """The only country that has the state, where no point speaks for the other."""
    is_only = (found["country_of_state"].str.len() == 2) & (found["country_at_point"] == "")
    return {"countryCode": found["country_of_state"].where(is_only, "")}


RULE = Rule(
    title="A state of another country",
    severity="please-check",
    scope="row",
    asks="tagger",
    fields=("countryCode", "stateProvince"),
    looked_up=(
        "countryCode_doubt",
        "stateProvince_doubt",
        "country_of_state",
        "country_at_point",
        "km_outside_country",
        "is_in_region",
    ),
    withholds=("countryCode", "stateProvince"),
    message="Row {row} says {stateProvince} and {countryCode}, and that country has no state or province"
    " of this name, so neither is published for now. Is the country {suggestion}?",
    unsuggested="Row {row} says {stateProvince} and {countryCode}, and that country has no state or"
    " province of this name, so neither is published for now. Which of the two is right?",
    why="a state and a country that exclude each other cannot both be right",
    source="ISO 3166-2",
    examples=Examples(
        finds="""
            countryCode | stateProvince | country_of_state | country_at_point | suggests countryCode
            US          | Nova Scotia   | CA               |                  | CA
            US          | Nova Scotia   | CA               | US               |
            CA          | Amazonas      | BR CO PE VE      |                  |

            countryCode | stateProvince | country_of_state | country_at_point | km_outside_country | is_in_region
            CA          | Maine         | US               | US               | 5                  | yes
            US          | Nova Scotia   | CA               | KZ               | 9100               | no
            US          | Amazonas      | BR CO PE VE      |                  | 400                | yes
        """,
        leaves="""
            countryCode | stateProvince | country_of_state
            CA          | Nova Scotia   | CA
            CA          |               |
        """,
        near_misses="""
            countryCode | stateProvince | country_of_state | country_at_point | countryCode_doubt | stateProvince_doubt
            PE          | Amazonas      | BR CO PE VE      |                  |                   |
                        | Nova Scotia   | CA               |                  |                   |
            US          | the island    |                  |                  |                   | not-in-list
            US          | Nova Scotai   | CA               |                  |                   | not-in-list
            Cananda     | Maine         | US               |                  | not-in-list       |

            countryCode | stateProvince | country_of_state | country_at_point | km_outside_country
            US          | Nova Scotia   | CA               | CA               | 310
        """,
    ),
)
