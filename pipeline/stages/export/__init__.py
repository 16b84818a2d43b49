"""Clear rows to a batch: the Darwin Core tables that a portal takes."""

from __future__ import annotations

import re
from dataclasses import dataclass

import numpy as np
import pandas as pd

from pipeline.frames import is_among, rows_where
from pipeline.settings import Settings
from pipeline.stages.export.cells import in_words, joined, kept, matching, of_list, safe, spread
from pipeline.stages.export.days import days
from pipeline.stages.export.measures import measures
from pipeline.stages.export.places import places
from pipeline.stages.export.taxa import taxon
from pipeline.values.lists import PortalLists
from pipeline.values.text import tidy

TABLES = ("occurrence", "measurementOrFact", "resourceRelationship")
SEXES = ("female", "male")
LIFE_STAGES = ("egg", "larva", "pupa", "juvenile", "adult")
VITALITIES = ("alive", "dead", "mixedLot", "uncertain", "notAssessed")
TIME = r"\d{2}:\d{2}(?::\d{2})?(?:/\d{2}:\d{2}(?::\d{2})?)?"
DEAD = "dead"
OURS = frozenset({"occurrenceID", "measurementID", "measurementType", "measurementMethod", "resourceID"})
RELATION = "encounter previous to"  # the standard's own words, in the examples of associatedOccurrences


@dataclass(frozen=True)
class Batch:
    """What goes to the portal: three tables, all text, named as their files."""

    occurrence: pd.DataFrame
    measurement_or_fact: pd.DataFrame
    resource_relationship: pd.DataFrame


def export(
    rows: pd.DataFrame, finds: pd.DataFrame, privacy: pd.DataFrame, lists: PortalLists, settings: Settings
) -> Batch:
    """The batch of the clear rows.

    `rows`: the rows frame with its facts, occurrence_id, modified (ISO day), withheld (fields that stay home,
    by a space); `finds` as match_finds gives them; `privacy` as protect gives it, with the rows' index.
    A record whose origin is not one of those that the settings publish stays home whole.
    """
    goes = rows["origin"].isin(["", *settings.portal.origins]) | (rows["recordKind"] == "find")
    core, privacy = rows_where(rows, goes), rows_where(privacy, goes)
    links = finds[
        is_among(finds["find_occurrence_id"], core.loc[core["recordKind"] == "find", "occurrence_id"])
        & (finds["release_occurrence_id"] != "")
        & ~is_among(finds["release_occurrence_id"], rows.loc[~goes, "occurrence_id"])
    ]
    occurrence = pd.DataFrame(
        {
            **_record(core, settings),
            **_notes(core, privacy),
            **_organism(core, _associated(core, links), settings),
            **_who_and_what_end(core, privacy, lists),
            **_event(core, privacy),
            **places(core, privacy, lists.countries, settings),
            **taxon(core, lists.taxa),
        },
        index=core.index,
    )
    tables = (occurrence, measures(core, settings), _relationships(core, links, settings))
    return Batch(*(safe(table[list(lists.columns[name])], OURS) for name, table in zip(TABLES, tables, strict=True)))


def _record(rows: pd.DataFrame, settings: Settings) -> dict[str, pd.Series | str]:
    programme = settings.programme
    return {
        "occurrenceID": rows["occurrence_id"],
        "modified": rows["modified"],
        "license": programme.licence,
        "rightsHolder": programme.rights_holder or programme.name,
        "datasetID": settings.portal.dataset_id,
        "datasetName": programme.name,
        "institutionCode": programme.id,
        "basisOfRecord": "HumanObservation",
    }


def _notes(rows: pd.DataFrame, privacy: pd.DataFrame) -> dict[str, pd.Series]:
    """What was kept back, in words that do not say why: the reason is private too."""
    is_rounded = privacy["place_is_rounded"]
    has_point, square = rows["place_latitude"].notna() & rows["place_longitude"].notna(), privacy["square_degrees"]
    return {
        "informationWithheld": joined(
            [
                ("name of the recorder", privacy["recorded_by"] == "participant"),
                ("exact place", is_rounded & (has_point | (rows["locality"] != ""))),
                ("locality", ~is_rounded & privacy["locality_stays"] & (rows["locality"] != "")),
                ("values that are being checked", rows["withheld"] != ""),
            ]
        ),
        "dataGeneralizations": joined(
            [
                (f"coordinates rounded to the nearest {size:g} degree", is_rounded & has_point & (square == size))
                for size in sorted({*square} - {0.0}) or [0.0]
            ]
        ),
    }


def _who_and_what_end(rows: pd.DataFrame, privacy: pd.DataFrame, lists: PortalLists) -> dict[str, pd.Series]:
    """The recorder, by name and ORCID where the name may go out; and of what a butterfly found dead had died."""
    names, named = pd.factorize(privacy["recorded_by"])
    vitality = of_list(kept(rows, "vitality"), VITALITIES)
    is_dead_find = (vitality == DEAD) & (rows["recordKind"] == "find")
    told = rows["vitality_written"].where(is_dead_find, "") + "\x1f" + rows["condition"].where(is_dead_find, "")
    texts, ends = pd.factorize(told)
    causes = [next(filter(None, (lists.causes.get(tidy(one), "") for one in end.split("\x1f"))), "") for end in ends]
    return {
        "recordedBy": privacy["recorded_by"],
        "recordedByID": spread([lists.orcids.get(name, "") for name in named], names, rows.index),
        "behavior": kept(rows, "behavior").mask(privacy["behavior_stays"], ""),
        "vitality": vitality,
        "causeOfDeath": spread(causes, texts, rows.index),
    }


def _organism(rows: pd.DataFrame, associated: pd.Series, settings: Settings) -> dict[str, pd.Series | str]:
    name = _without_check_character(rows["tagCode"], settings)
    season = rows["tag_season"].where(rows["tag_season"] != "", rows["season"])
    identifier = settings.programme.id + ":" + season + ":" + name
    return {
        "individualCount": matching(kept(rows, "individualCount"), r"\d+"),
        "sex": in_words(kept(rows, "sex"), dict(zip(SEXES, settings.portal.sex_words, strict=True))),
        "lifeStage": in_words(
            kept(rows, "lifeStage"), dict(zip(LIFE_STAGES, settings.portal.life_stage_words, strict=True))
        ),
        "establishmentMeans": settings.portal.establishment_means,
        "occurrenceStatus": settings.portal.occurrence_status,
        "associatedOccurrences": associated,
        "organismID": identifier.where(name != "", ""),
        "organismName": name,
    }


def _without_check_character(codes: pd.Series, settings: Settings) -> pd.Series:
    if settings.tags.check_character == "none":
        return codes
    whole = re.compile(settings.tags.pattern)
    number, unique = pd.factorize(codes)
    names = [code[:-1] if whole.fullmatch(code[:-1]) else code for code in unique]
    return spread(names, number, codes.index)


def _event(rows: pd.DataFrame, privacy: pd.DataFrame) -> dict[str, pd.Series]:
    is_find = np.asarray(rows["recordKind"] == "find", dtype="int64")
    written = rows["eventDate_written"].mask(privacy["eventDate_written_stays"], "")
    return {
        "eventType": spread(("Release", "Find"), is_find, rows.index),
        "samplingProtocol": spread(("wing tagging", "chance find of a tag"), is_find, rows.index),
        **days(kept(rows, "eventDate")),
        "eventTime": matching(kept(rows, "eventTime"), TIME),
        "verbatimEventDate": written,
    }


def _associated(rows: pd.DataFrame, links: pd.DataFrame) -> pd.Series:
    """On the find's record: the release is the encounter previous to it.

    The term lists "other Occurrence records and their associations to this Occurrence".
    """
    if not len(links):
        return pd.Series("", index=rows.index, dtype="str")
    pairs = f'"{RELATION}":"' + links["release_occurrence_id"] + '"'
    of_find = pairs.groupby(links["find_occurrence_id"]).agg(" | ".join)
    return rows["occurrence_id"].map(of_find).astype("str").fillna("")


def _relationships(rows: pd.DataFrame, links: pd.DataFrame, settings: Settings) -> pd.DataFrame:
    """Each find points to its release: subject, relation, object."""
    find, release = links["find_occurrence_id"], links["release_occurrence_id"]
    modified = rows.set_index("occurrence_id")["modified"]
    return pd.DataFrame(
        {
            "occurrenceID": find,
            "resourceRelationshipID": find + "#release",
            "resourceID": find,
            "relationshipOfResource": "encounter subsequent to",
            "relatedResourceID": release,
            "relationshipAccordingTo": settings.programme.name,
            "relationshipEstablishedDate": find.map(modified),
            "relationshipRemarks": "matched by the tag code",
        }
    )
