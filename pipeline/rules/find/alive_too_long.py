"""A find alive longer after its release than a butterfly lives."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(x: pd.DataFrame) -> pd.Series:
    fewest_days = (x["first_day"] - x["release_last_day"]).dt.days
    is_alive = (x["recordKind"] == "find") & x["has_release"] & (x["vitality"] == "alive")
    return is_alive & (fewest_days > x["longest_life_days"])


RULE = Rule(
    title="Alive longer than it can have lived",
    severity="please-check",
    scope="season",
    asks="finder",
    fields=("vitality",),
    looked_up=("tagCode", "eventDate", "has_release", "first_day", "release_last_day", "longest_life_days"),
    withholds=("vitality",),
    message="Your find of tag {tagCode} is dated {eventDate} and was alive, but the butterfly was let go by"
    " {release_last_day}, and hardly any lives more than {longest_life_days} days. Was it alive, dead, or"
    " only the tag?",
    why="the winter generation lives up to about ten months; dead ones and bare tags have no limit",
    source="our proposal: 310 days (settings); Herman & Tatar 2001, Proc. R. Soc. B 268:2509; Brower, Fink &"
    " Walford 2006, Integr. Comp. Biol. 46:1123",
    examples=Examples(
        finds="""
            recordKind | has_release | vitality | release_last_day | first_day  | longest_life_days
            find       | yes         | alive    | 2025-09-03       | 2026-07-11 | 310
        """,
        leaves="""
            recordKind | has_release | vitality | release_last_day | first_day  | longest_life_days
            find       | yes         | alive    | 2025-09-03       | 2026-02-14 | 310
        """,
        near_misses="""
            recordKind | has_release | vitality | release_last_day | first_day  | longest_life_days
            find       | yes         | alive    | 2025-09-03       | 2026-07-10 | 310
            find       | yes         | alive    | 2025-09-03       | 2026-07-11 | 320
            find       | yes         | dead     | 2025-09-03       | 2026-07-11 | 310
            find       | yes         |          | 2025-09-03       | 2026-07-11 | 310
            find       | no          | alive    | 2025-09-03       | 2026-07-11 | 310
            release    | yes         | alive    | 2025-09-03       | 2026-07-11 | 310
            find       | yes         | alive    | 2025-09-03       |            | 310
            find       | yes         | alive    |                  | 2026-07-11 | 310
        """,
    ),
)
