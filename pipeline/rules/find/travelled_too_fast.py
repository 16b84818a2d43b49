"""A find farther from its release than a butterfly gets in the days between."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(x: pd.DataFrame) -> pd.Series:
    # Days are known only to the day, so a day more than between them may have passed.
    most_days = (x["last_day"] - x["release_day"]).dt.days + 1
    is_pair = (x["recordKind"] == "find") & x["has_release"] & (most_days > 0)
    return is_pair & (x["release_km"] > most_days * x["fastest_km_per_day"])


RULE = Rule(
    title="Farther than it can have flown",
    severity="please-check",
    scope="season",
    asks="finder",
    fields=("decimalLatitude",),
    looked_up=(
        "tagCode",
        "eventDate",
        "has_release",
        "last_day",
        "release_day",
        "release_km",
        "fastest_km_per_day",
    ),
    # The distance itself is not told: with it the exact point of the release could be sought.
    message="To reach the place of your find by {eventDate}, the butterfly with tag {tagCode}, let go on"
    " {release_day}, would have had to fly more than {fastest_km_per_day} km every day. The farthest day"
    " measured by radio is 143 km. Please check the code, the day and the place.",
    why="a misread code joins a find to a release with which it has nothing to do",
    source="our proposal: 150 km a day (settings); Knight, Pitman, Flockhart & Norris 2019, Biol. Lett."
    " 15:20190327: 143 km in a day by radio",
    examples=Examples(
        finds="""
            recordKind | has_release | release_day | last_day   | release_km | fastest_km_per_day
            find       | yes         | 2026-09-03  | 2026-09-06 | 601        | 150
            find       | yes         | 2026-09-03  | 2026-09-03 | 450        | 150
        """,
        leaves="""
            recordKind | has_release | release_day | last_day   | release_km | fastest_km_per_day
            find       | yes         | 2026-09-03  | 2026-11-20 | 3900       | 150
        """,
        near_misses="""
            recordKind | has_release | release_day | last_day   | release_km | fastest_km_per_day
            find       | yes         | 2026-09-03  | 2026-09-06 | 600        | 150
            find       | yes         | 2026-09-03  | 2026-09-06 | 601        | 200
            release    | yes         | 2026-09-03  | 2026-09-06 | 601        | 150
            find       | no          | 2026-09-03  | 2026-09-06 | 601        | 150
            find       | yes         | 2026-09-03  | 2026-09-02 | 601        | 150
            find       | yes         | 2026-09-03  |            | 601        | 150
            find       | yes         | 2026-09-03  | 2026-09-06 |            | 150
        """,
    ),
)
