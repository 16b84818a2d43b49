"""From clear rows to a batch that the gate has judged: what is new or changed, and what is taken back."""

from __future__ import annotations

import sqlite3
from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date
from pathlib import Path

import pandas as pd

from pipeline.examine import Examined
from pipeline.files.archive_batches import take_in_batches
from pipeline.files.batch_files import write_batch
from pipeline.files.csv_files import sha256s
from pipeline.files.gate_client import Gate, ask, verdict_of
from pipeline.files.ledger import frame, look_at, next_batch_id
from pipeline.files.programme import ProgrammeFolder
from pipeline.frames import is_among, known_of, rows_where
from pipeline.published import DELIVER_REASON, GATE_REASON, UNDONE, Occasion, Published
from pipeline.settings import Settings
from pipeline.stages.export import Batch, export
from pipeline.stages.export.digests import digests
from pipeline.stages.match_finds import match_finds
from pipeline.stages.protect import privacy

TOLD = frozenset({
    "key", "person_id", "file", "file_sha256", "sheet", "table_id", "table", "row", "part", "state", "reason",
    "withheld", "tag_season", "latitude", "longitude", "latitude_decimals", "longitude_decimals",
    "country_of_state", "country_at_point", "uncertainty_metres", "first_day", "last_day",
    "datum_code", "datum_metres", "datum_operation",
    "place_state", "place_latitude", "place_longitude", "place_metres", "town_metres", "town_source", "town_country",
    "km_from_home", "is_public_site", "recorded_by_is_minor",
    "has_place_words", "vitality_written", "tagCode_written", "eventDate_written", "locality_written",
    "decimalLatitude_written", "decimalLongitude_written",
})  # fmt: skip


def publish(
    examined: Examined,
    programme: ProgrammeFolder,
    ledger: sqlite3.Connection,
    staging: Path,
    asked: Occasion,
) -> Published:
    """Stages the batch of new and changed records and asks the gate, but does not wait for it (see `judged`).

    What comes back takes it that the batch will leave.
    """
    settings, elsewhere = programme.settings, examined.elsewhere
    take_in_batches(ledger, staging.parent / "portal")
    known = _known(ledger, examined)
    rows = _with_country(examined.rows[_told(examined.rows, programme)], settings.region.countries)
    rows = _with_ids(rows, known, settings.season.label).assign(metres=rows["place_metres"])
    finds = match_finds(rows, elsewhere, settings)
    batch, is_rounded = _export(rows, finds, programme)
    rows = rows.assign(is_rounded=is_rounded.map({True: "yes", False: ""}).astype("str"))
    now = known_of(rows["occurrence_id"], digests(batch))
    rows = _without_ids_of_what_stays_home(rows, now)
    is_changed = (now != "") & (now != rows["digest"])
    gone = _gone(_reasons(rows, examined.aside), known, rows.loc[now != "", "key"], asked.today)
    if not (is_changed.any() or len(gone)):
        return Published(rows, finds)
    if settings.portal.batch == "when-asked" and not asked.delivers:
        waiting = Published(rows, finds, waits=int(is_changed.sum()) + len(gone))
        return _kept_home(waiting, is_changed, (settings, elsewhere), DELIVER_REASON)
    at_portal = (path.name for path in staging.parent.glob("portal/*"))
    batch_id = next_batch_id(ledger, settings.season.label, at_portal)
    rows = rows.assign(modified=rows["modified"].where(~is_changed, asked.today.isoformat()), before=rows["batch_id"])
    staged = staging / batch_id
    tables = (batch.occurrence, batch.measurement_or_fact, batch.resource_relationship)
    write_batch(staged, tables, rows.loc[is_changed, ["occurrence_id", "modified", "before"]], gone)
    if asked.gate:
        ask(asked.gate, staged)
    published = Published(rows, finds, batch_id, int(is_changed.sum()), len(gone), sha256s(staged), staged)
    kept_home = _kept_home(published, is_changed, (settings, elsewhere), GATE_REASON)
    return replace(_sent(published, is_changed, now), if_refused=kept_home)


def judged(published: Published, gate: Gate | None) -> Published:
    """What the gate's verdict leaves of a batch; waits for it."""
    if gate is None or published.staged is None or published.if_refused is None:
        return published
    verdict = verdict_of(gate)
    return replace(published if verdict.passed else published.if_refused, verdict=verdict, if_refused=None)


def _told(rows: pd.DataFrame, programme: ProgrammeFolder) -> list[str]:
    """The columns that the rest of a run needs of a row: its fields and some of the facts."""
    fields = {field.name for field in programme.lists.fields}
    return [name for name in rows.columns if name in fields or name in TOLD]


def _with_country(rows: pd.DataFrame, expected: Sequence[str]) -> pd.DataFrame:
    """Where a row names no country: that of its state or province, of its point or of its town, if there is one.

    Of several countries with a state of the name (Florida) the only one that is expected.
    """
    codes, having = pd.factorize(rows["country_of_state"])
    likely = [[code for code in countries.split() if code in expected] or countries.split() for countries in having]
    only = pd.Series([one[0] if len(one) == 1 else "" for one in likely], dtype="str")
    known = only.take(codes).set_axis(rows.index)
    for column in ("country_at_point", "town_country"):
        known = known.where(known != "", rows[column])
    return rows.assign(countryCode=rows["countryCode"].where(rows["countryCode"] != "", known))


def _with_ids(rows: pd.DataFrame, known: pd.DataFrame, season: str) -> pd.DataFrame:
    by_key = known.set_index("key")
    blank = pd.Series("", index=rows.index, dtype="str")
    own = {name: known_of(rows["key"], by_key[name]) if len(known) else blank for name in by_key.columns}
    is_first = (rows["state"] == "clear") & (own["occurrence_id"] == "")
    own["occurrence_id"] = own["occurrence_id"].where(~is_first, "urn:uuid:" + rows["key"])
    own["was_rounded"] = own["is_rounded"] == "yes"
    return rows.assign(**own, season=rows["tag_season"].where(rows["tag_season"] != "", season))


def _export(rows: pd.DataFrame, finds: pd.DataFrame, programme: ProgrammeFolder) -> tuple[Batch, pd.Series]:
    """What goes out of the clear rows, and which rows' places are rounded (once so, always so)."""
    clear = rows_where(rows, rows["state"] == "clear")
    protection = privacy(clear, programme.people, programme.settings, rows, programme.sensitive)
    is_rounded = protection["place_is_rounded"].reindex(rows.index, fill_value=False) | rows["was_rounded"]
    return export(clear, finds, protection, programme.portal_lists, programme.settings), is_rounded


def _without_ids_of_what_stays_home(rows: pd.DataFrame, now: pd.Series) -> pd.DataFrame:
    """A clear row that the settings keep at home (a bred butterfly, say) has no id until it is published."""
    stays = (rows["state"] == "clear") & (now == "") & (rows["batch_id"] == "")
    return rows.assign(
        occurrence_id=rows["occurrence_id"].where(~stays, ""),
        reason=rows["reason"].where(~stays, "stays home: " + rows["origin"]),
    )


def _known(ledger: sqlite3.Connection, examined: Examined) -> pd.DataFrame:
    """What was published before of the rows that are looked at, put aside or not, and of those that were undone."""
    names = "key, occurrence_id, digest, modified, batch_id, is_rounded"
    look_at(ledger, examined.shas)
    query = f"SELECT {names} FROM rows WHERE occurrence_id != '' AND "
    looked_at = frame(ledger, query + "file_sha256 IN (SELECT sha256 FROM looked_at)")
    undone = frame(ledger, query + "state = 'withdrawn' AND reason = ?", (UNDONE,))
    return pd.concat([looked_at, undone], ignore_index=True).drop_duplicates("key")


def _reasons(rows: pd.DataFrame, aside: pd.DataFrame) -> dict[str, str]:
    """By key: why a row does not go to the portal, in words that anybody may read."""
    words = {"withdrawn": "withdrawn by its recorder", "left-out": "the tag was not released"}
    put_aside = {key: words.get(state, state) for key, state in aside[["key", "state"]].itertuples(index=False)}
    return put_aside | dict(rows[["key", "reason"]].itertuples(index=False, name=None))


def _gone(reasons: Mapping[str, str], known: pd.DataFrame, at_home: pd.Series, today: date) -> pd.DataFrame:
    """The records at the portal whose row no longer goes there, as lines of withdrawn.csv."""
    at_portal = known[known["digest"] != ""]
    gone = at_portal[~is_among(at_portal["key"], at_home)]
    said = gone["key"].map(reasons).fillna("no longer in a current sheet")
    return pd.DataFrame(
        {"occurrenceID": gone["occurrence_id"], "reason": said, "modified": today.isoformat()}, dtype="str"
    )


def _sent(published: Published, is_changed: pd.Series, digests: pd.Series) -> Published:
    rows = published.rows
    is_home = digests == ""
    digest = rows["digest"].where(~is_changed, digests).where(~is_home, "")
    return replace(
        published,
        rows=rows.assign(digest=digest, batch_id=rows["batch_id"].where(~is_changed, published.batch_id)),
    )


def _kept_home(
    published: Published, is_changed: pd.Series, told: tuple[Settings, pd.DataFrame], reason: str
) -> Published:
    """What does not leave yet is held with this reason; what the portal has already stays there as it is."""
    settings, elsewhere = told
    rows = published.rows
    waits = is_changed & (rows["digest"] == "")
    is_first = waits & (rows["batch_id"] == "")
    rows = rows.assign(
        state=rows["state"].where(~waits, "held"),
        reason=rows["reason"].where(~waits, reason),
        occurrence_id=rows["occurrence_id"].where(~is_first, ""),
    )
    return replace(published, rows=rows, finds=match_finds(rows, elsewhere, settings))
