"""Adds what the rows say about people: whether the sender is known and whether a child is named."""

from __future__ import annotations

import pandas as pd

from pipeline.values.observers import observers
from pipeline.values.text import tidy


def look_up_people(rows: pd.DataFrame, people: pd.DataFrame) -> dict[str, pd.Series]:
    """The facts about people; `people` has the columns of people.csv."""
    minors = people[people["minor"] == "yes"]
    names = {tidy(name) for name in minors["name"] if name}
    codes, unique = pd.factorize(rows["recordedBy"])
    named = pd.Series([any(tidy(one) in names for one in observers(cell, names)) for cell in unique], dtype="bool")
    return {
        "is_sender_known": rows["person_id"] != "",
        "recorded_by_is_minor": named.take(codes).set_axis(rows.index) | rows["person_id"].isin(minors["person_id"]),
    }
