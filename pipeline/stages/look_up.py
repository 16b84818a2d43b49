"""Adds to the rows the typed values of measures and words, so that no rule parses text."""

from __future__ import annotations

from collections.abc import Callable, Mapping

import pandas as pd

from pipeline.settings import Settings
from pipeline.values.lists import Lists
from pipeline.values.nearest import nearest
from pipeline.values.text import tidy

PLACE_FIELDS = (
    "decimalLatitude", "decimalLongitude", "locality", "municipality", "county", "stateProvince", "postalCode",
)  # fmt: skip
NUMBER = r"-?\d+(?:\.\d+)?"


def look_up(rows: pd.DataFrame, places: pd.DataFrame, lists: Lists, settings: Settings) -> dict[str, pd.Series]:
    """The facts about measures, species, words and columns, as new columns by name."""
    return {
        **_measures(rows),
        **_words(rows, lists),
        **_species(rows, lists, settings),
        **_columns(rows, places),
        **_of_settings(rows, settings),
    }


def _columns(rows: pd.DataFrame, places: pd.DataFrame) -> dict[str, pd.Series]:
    """Whether the row's table has a column for what every table needs."""

    def is_missing(*fields: str) -> pd.Series:
        return ~rows["table_id"].isin(places.loc[places["field"].isin(fields), "table_id"])

    return {
        "day_column_is_missing": is_missing("eventDate"),
        "tag_column_is_missing": is_missing("tagCode"),
        "species_column_is_missing": is_missing("scientificName"),
        "place_columns_are_missing": is_missing(*PLACE_FIELDS),
    }


def _of_settings(rows: pd.DataFrame, settings: Settings) -> dict[str, pd.Series]:
    stays = ~rows["origin"].isin(["", *settings.portal.origins])
    return {
        "origin_stays_home": stays & rows["origin"].isin(["wild", "reared", "bred", "bought"]),
        "fastest_km_per_day": pd.Series(float(settings.finds.fastest_km_per_day), index=rows.index),
        "longest_life_days": pd.Series(float(settings.finds.longest_life_days), index=rows.index),
    }


def _minutes(times: pd.Series) -> pd.Series:
    codes, unique = pd.factorize(times)
    clock = pd.Series(unique, dtype="str").str.extract(r"^(\d\d):(\d\d)").astype("float64")
    return (clock[0] * 60 + clock[1]).take(codes).set_axis(times.index)


def _measures(rows: pd.DataFrame) -> dict[str, pd.Series]:
    fields = {
        "millimetres": "forewingLength",
        "span_millimetres": "wingSpan",
        "grams": "bodyMass",
        "wear": "wingWear",
        "uncertainty_metres": "coordinateUncertaintyInMeters",
    }
    facts = {fact: _number(rows[field]) for fact, field in fields.items()}
    return {**facts, "minutes_of_day": _minutes(rows["eventTime"])}


def _number(texts: pd.Series) -> pd.Series:
    return pd.to_numeric(texts.where(texts.str.fullmatch(NUMBER)), errors="coerce").astype("float64")


def _mapped(texts: pd.Series, read: Callable[[str], str]) -> pd.Series:
    codes, unique = pd.factorize(texts)
    return pd.Series([read(text) if text else "" for text in unique], dtype="str").take(codes).set_axis(texts.index)


def _near(rows: pd.DataFrame, field: str, values: Mapping[str, str]) -> pd.Series:
    unknown = rows[field].where(rows[f"{field}_doubt"] == "not-in-list", "")
    return _mapped(unknown, lambda word: nearest(tidy(word), values))


def _words(rows: pd.DataFrame, lists: Lists) -> dict[str, pd.Series]:
    names = {spelling: {state.name for state in found} for spelling, found in lists.states.items()}
    states = {spelling: min(found) for spelling, found in names.items() if len(found) == 1}
    lists_of = {"sex": "sex", "origin": "origin", "stage": "life_stage"}
    fields = {"sex": "sex", "origin": "origin", "stage": "lifeStage"}
    facts = {
        f"nearest_{name}": _near(rows, fields[name], lists.choices[listed].spellings)
        for name, listed in lists_of.items()
    }
    return {
        **facts,
        **_crossed(rows, lists),
        "nearest_country": _near(rows, "countryCode", lists.countries),
        "nearest_state": _near(rows, "stateProvince", states),
        "country_of_state": _mapped(
            rows["stateProvince"],
            lambda name: " ".join(sorted({state.country for state in lists.states.get(tidy(name), ())})),
        ),
    }


def _crossed(rows: pd.DataFrame, lists: Lists) -> dict[str, pd.Series]:
    """Sex and stage where each cell reads as the other's."""
    is_lost = (rows["sex_doubt"] == "not-in-list") & (rows["lifeStage_doubt"] == "not-in-list")
    read = {
        "sex_in_stage": ("lifeStage", lists.choices["sex"].spellings),
        "stage_in_sex": ("sex", lists.choices["life_stage"].spellings),
    }
    facts = {fact: _mapped(rows[field].where(is_lost, ""), _said_by(words)) for fact, (field, words) in read.items()}
    are_both = (facts["sex_in_stage"] != "") & (facts["stage_in_sex"] != "")
    return {fact: found.where(are_both, "") for fact, found in facts.items()}


def _said_by(words: Mapping[str, str]) -> Callable[[str], str]:
    return lambda word: words.get(tidy(word), "")


def _species(rows: pd.DataFrame, lists: Lists, settings: Settings) -> dict[str, pd.Series]:
    names = {spelling: found[0] for spelling, found in lists.taxa.items() if len(found) == 1}
    name = rows["scientificName"]
    genera = [taxon for taxon, rank in lists.taxon_ranks.items() if rank == "genus"]
    return {
        "nearest_species": _near(rows, "scientificName", names),
        "species": name.where(rows["scientificName_doubt"] == "", ""),
        "species_is_allowed": name.isin(["", *settings.species.allowed]),
        "species_is_genus": name.isin(genera),
        "species_of_name": rows["scientificName_candidates"]
        .where(rows["scientificName_doubt"] == "name-of-several", "")
        .str.replace(" | ", ", ", regex=False),
    }
