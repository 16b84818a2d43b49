"""A find whose day lies before the day of the release."""

import pandas as pd

from pipeline.rule import Examples, Rule


def finds(x: pd.DataFrame) -> pd.Series:
    return (x["recordKind"] == "find") & x["has_release"] & (x["last_day"] < x["release_day"])


def suggests(found: pd.DataFrame) -> dict[str, pd.Series]:
    other = found["other_order"]
    fits = (other >= found["release_last_day"]) & (other <= found["received"])
    return {"eventDate": other.dt.strftime("%Y-%m-%d").where(fits, "").astype("str")}


RULE = Rule(
    title="Found before its release",
    severity="must-answer",
    scope="season",
    asks="finder",
    fields=("eventDate",),
    looked_up=(
        "tagCode",
        "has_release",
        "last_day",
        "release_day",
        "release_last_day",
        "other_order",
        "received",
    ),
    waivable=False,
    message="Your find of tag {tagCode} is dated {eventDate}, but the butterfly was let go only on"
    " {release_day}, so one of the two days must be a slip. With day and month the other way round it would"
    " be {suggestion}. Was it that day?",
    unsuggested="Your find of tag {tagCode} is dated {eventDate}, but the butterfly was let go only on"
    " {release_day}, so one of the two days must be a slip. Is the day of your find right, and is the code?",
    why="nothing can be found before it was let go",
    source="common practice",
    examples=Examples(
        finds="""
            recordKind | has_release | release_day | last_day   | other_order | suggests eventDate
            find       | yes         | 2026-09-03  | 2026-03-11 | 2026-11-03  | 2026-11-03
            find       | yes         | 2026-10-03  | 2026-03-10 | 2026-10-03  | 2026-10-03
            find       | yes         | 2026-09-03  | 2026-03-12 | 2026-12-03  |
            find       | yes         | 2026-09-03  | 2026-08-02 | 2026-02-08  |
            find       | yes         | 2026-09-03  | 2026-08-31 |             |

            recordKind | has_release | release_day | last_day   | other_order | received | suggests eventDate
            find       | yes         | 2026-09-03  | 2026-03-11 | 2026-11-03  | 2026-11-03 | 2026-11-03
            find       | yes         | 2026-09-03  | 2026-03-11 | 2026-11-03  | 2026-11-02 |

            recordKind | has_release | release_day | release_last_day | last_day   | other_order
            find       | yes         | 2026-09-01  | 2026-09-30       | 2026-07-09 | 2026-09-07
        """,
        leaves="""
            recordKind | has_release | release_day | last_day
            find       | yes         | 2026-09-03  | 2026-11-03
        """,
        near_misses="""
            recordKind | has_release | release_day | last_day
            find       | yes         | 2026-09-03  | 2026-09-03
            find       | yes         | 2026-09-03  | 2026-09-30
            find       | no          | 2026-09-03  | 2026-08-01
            release    | yes         | 2026-09-03  | 2026-08-01
            find       | yes         | 2026-09-03  |
            find       | yes         |             | 2026-08-01
        """,
    ),
)
