"""Says of every row what stays in the house: exact places, names, words that tell where somebody lives."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
import pandas as pd

from pipeline.settings import Settings
from pipeline.values.observers import observers
from pipeline.values.private_words import (
    Names,
    holds_contact,
    holds_house_number,
    holds_name,
    holds_postcode,
    names_of,
)
from pipeline.values.rounding import to_square
from pipeline.values.sensitive import squares_of_sensitive
from pipeline.values.text import tidy
from pipeline.values.uncertainty import metres_per_degree

NEAR_KM = 0.5
MOST_USED_SQUARE = 0.001  # degrees: how finely the place with most releases is looked for
PARTICIPANT = "participant"
# What a person typed that may go out beside locality, as long as it tells nothing private.
WORDS = ("municipality", "county", "stateProvince", "behavior")
WRITTEN = ("eventDate_written", "decimalLatitude_written", "decimalLongitude_written")
# Where a minor may be named.
TOLD = ("recordedBy", "locality", "municipality", "behavior", "condition", "occurrenceRemarks")


def privacy(
    rows: pd.DataFrame, people: pd.DataFrame, settings: Settings, all_rows: pd.DataFrame, sensitive: pd.DataFrame
) -> pd.DataFrame:
    """What stays in the house, a line per row: yes-no columns, and reasons for the coordinator.

    `place_is_rounded`, `square_degrees` (to which), `why_rounded`, `locality_stays`, `why_locality_stays`,
    `<column>_stays` for other words and for texts as written, and `recorded_by` as it may be published. `all_rows` is
    the whole ledger, in the order of arrival, with person_id, recordKind, latitude, longitude, file_sha256, sheet and
    recordedBy; `sensitive` are the places to be hidden, with the columns of sensitive_places.csv.
    """
    names = names_of([*people["name"], *people["guardian_name"]])
    rounded = _why_rounded(rows, people, settings, all_rows)
    square = squares_of_sensitive(rows, sensitive)
    rounded = rounded.mask(square > 0, (rounded + " | a sensitive place").str.removeprefix(" | "))
    usual = pd.Series(settings.privacy.home_square_degrees, index=rows.index).where(rounded != "", 0)
    locality = _why_locality_stays(rows, names, all_rows)
    return pd.DataFrame(
        {
            "place_is_rounded": rounded != "",
            "square_degrees": np.maximum(square, usual),
            "why_rounded": rounded,
            "locality_stays": locality != "",
            "why_locality_stays": locality,
            **{f"{column}_stays": _asked(rows[column], lambda text: _tells(text, names)) for column in WORDS},
            **{f"{column}_stays": _asked(rows[column], lambda text: holds_name(text, names)) for column in WRITTEN},
            "recorded_by": _recorded_by(rows, people, settings),
        },
        index=rows.index,
    )


def _asked(texts: pd.Series, says: Callable[[str], Any]) -> pd.Series:
    """What is said of each text, each unique one asked once."""
    codes, unique = pd.factorize(texts)
    said = [says(text) for text in unique]
    kind = "str" if said and isinstance(said[0], str) else "bool"
    return pd.Series(said, dtype=kind).take(codes).set_axis(texts.index)


def _tells(text: str, names: Names) -> bool:
    return holds_name(text, names) or holds_contact(text) or holds_postcode(text)


def _recorded_by(rows: pd.DataFrame, people: pd.DataFrame, settings: Settings) -> pd.Series:
    """The names that their bearers let us publish, each for itself; a blank cell stands for the sender."""
    bearers = people[people["name"] != ""].assign(tidied=lambda lines: lines["name"].map(tidy))
    may = (bearers["publish_name"] == "yes") & (bearers["minor"] == "no")
    # Where two people bear one name, both must agree.
    hidden = set(bearers.loc[~may, "tidied"])
    named = zip(bearers.loc[may, "tidied"], bearers.loc[may, "name"], strict=True)
    shown = {str(tidied): str(name) for tidied, name in named if tidied not in hidden}
    if settings.privacy.publish_names == "never":
        shown = {}
    of_person, known = bearers.set_index("person_id")["name"], frozenset(bearers["tidied"])
    sender = rows["person_id"].map(of_person.to_dict() | {"": ""}).astype("str").fillna("")
    return _asked(
        rows["recordedBy"].where(rows["recordedBy"] != "", sender),
        lambda cell: (
            " | ".join(dict.fromkeys(shown.get(tidy(one), PARTICIPANT) for one in observers(cell, known)))
            or PARTICIPANT
        ),
    )


def _why_rounded(rows: pd.DataFrame, people: pd.DataFrame, settings: Settings, all_rows: pd.DataFrame) -> pd.Series:
    is_public = _flag(rows, "is_public_site")
    is_find = rows["recordKind"] == "find"
    reasons = {
        "near a home": ~is_find & (rows["km_from_home"] <= NEAR_KM),
        "near the place used most": ~is_find & ~is_public & _is_at_most_used(rows, people, settings, all_rows),
        "by or naming a minor": rows["recorded_by_is_minor"] | _names_minor(rows, people),
        "place of a find": is_find & ~is_public,
        "rounded before": _flag(rows, "was_rounded"),
    }
    why = pd.Series("", index=rows.index, dtype="str")
    for reason, holds in reasons.items():
        why = why.mask(holds, (why + " | " + reason).str.removeprefix(" | "))
    return why


def _flag(rows: pd.DataFrame, column: str) -> pd.Series:
    """A yes-no column that not every programme can fill (own sites, earlier batches), else no."""
    return rows[column] if column in rows else pd.Series(False, index=rows.index)


def _names_minor(rows: pd.DataFrame, people: pd.DataFrame) -> pd.Series:
    minors = names_of(people.loc[people["minor"] == "yes", "name"])
    named = pd.Series(False, index=rows.index)
    for column in TOLD if minors.whole else ():
        named |= _asked(rows[column], lambda text: holds_name(text, minors))
    return named


def _is_at_most_used(rows: pd.DataFrame, people: pd.DataFrame, settings: Settings, all_rows: pd.DataFrame) -> pd.Series:
    """The row lies near the place where a person without a home on file released most."""
    if settings.privacy.home_unknown == "none":
        return pd.Series(False, index=rows.index)
    has_home = people.loc[(people["home_latitude"] != "") & (people["home_longitude"] != ""), "person_id"]
    places = _most_used(all_rows[~all_rows["person_id"].isin(has_home)])
    latitude, longitude = (rows["person_id"].map(places[axis]).astype("float64") for axis in ("latitude", "longitude"))
    north, east = metres_per_degree(rows["latitude"].to_numpy())
    km = np.hypot((rows["latitude"] - latitude) * north, (rows["longitude"] - longitude) * east) / 1000
    return pd.Series(km, index=rows.index) <= NEAR_KM


def _most_used(rows: pd.DataFrame) -> pd.DataFrame:
    """Latitude and longitude of each person's place with most releases; of equals the first seen."""
    used = rows[(rows["recordKind"] == "release") & (rows["person_id"] != "") & ~_flag(rows, "is_public_site")]
    used = used[["person_id", "latitude", "longitude"]].dropna()
    used = used.assign(
        latitude=to_square(used["latitude"].to_numpy(), MOST_USED_SQUARE),
        longitude=to_square(used["longitude"].to_numpy(), MOST_USED_SQUARE),
    )
    counted = used.groupby(list(used.columns), sort=False).size().reset_index(name="releases")
    most = counted.sort_values("releases", ascending=False, kind="stable").drop_duplicates("person_id")
    return most.set_index("person_id")[["latitude", "longitude"]]


def _why_locality_stays(rows: pd.DataFrame, names: Names, all_rows: pd.DataFrame) -> pd.Series:
    """Why a locality stays home; judged on the text in standard form and on the text as written."""
    told = rows["locality"].where(
        rows["locality"] == rows["locality_written"], rows["locality"] + " | " + rows["locality_written"]
    )
    why = _asked(told, lambda text: _reason(text, names))
    return why.mask((why == "") & _names_of_sheet(rows, told, all_rows), "a name of the same sheet")


def _reason(text: str, names: Names) -> str:
    if holds_name(text, names):
        return "a name"
    if holds_contact(text):
        return "an address or a telephone number"
    if holds_postcode(text):
        return "a postcode"
    return "a house number" if holds_house_number(text) else ""


def _names_of_sheet(rows: pd.DataFrame, told: pd.Series, all_rows: pd.DataFrame) -> pd.Series:
    """The text holds a name that stands as recordedBy on the same sheet."""
    recorded = pd.concat(
        [all_rows[["file_sha256", "sheet", "recordedBy"]], rows[["file_sha256", "sheet", "recordedBy"]]]
    )
    recorded = recorded[recorded["recordedBy"] != ""].drop_duplicates()
    of_sheet = {
        sheet: names_of(names)
        for sheet, names in recorded.groupby(["file_sha256", "sheet"])["recordedBy"].unique().items()
    }
    keys = rows["file_sha256"] + "\x1f" + rows["sheet"] + "\x1f" + told

    def holds(key: str) -> bool:
        sha256, sheet, text = key.split("\x1f", 2)
        return (sha256, sheet) in of_sheet and holds_name(text, of_sheet[sha256, sheet])

    return _asked(keys, holds)
