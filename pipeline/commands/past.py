"""The command `past`: takes in records already published, with the ids they have; asks nobody, publishes nothing."""

from __future__ import annotations

from pathlib import Path

import pandas as pd

from pipeline.commands.acts import THEN_RUN, act
from pipeline.files.csv_files import read_columns
from pipeline.files.journal import Entry, write_down
from pipeline.files.ledger import insert
from pipeline.settings import SettingsWrong

NEEDED = ("occurrenceID", "organismName")
COLUMNS = {
    "occurrence_id": "occurrenceID", "tag": "organismName", "kind": "eventType", "day": "eventDate",
    "latitude": "decimalLatitude", "longitude": "decimalLongitude", "sex": "sex", "species": "scientificName",
}  # fmt: skip


def past_command(file: Path, season_label: str, folder: Path) -> int:
    """Takes in a Darwin Core table of an earlier season; a record that is known already keeps its place."""
    if not file.is_file():
        raise SettingsWrong(f"There is no file {file}.")
    told = {name: column.values.take(column.places).tolist() for name, column in read_columns(file).items()}
    missing = [name for name in NEEDED if name not in told]
    if missing:
        raise SettingsWrong(f"{file.name} has no column {missing[0]}: past takes a Darwin Core occurrence table.")
    size = len(told["occurrenceID"])
    lines = pd.DataFrame({name: told.get(term, [""] * size) for name, term in COLUMNS.items()}, dtype="str")
    lines["kind"] = lines["kind"].str.lower().map({"find": "find"}).fillna("release").astype("str")
    lines = lines[(lines["occurrence_id"] != "") & (lines["tag"] != "")].drop_duplicates("occurrence_id")
    with act(folder, None) as (season, run):
        known = {one for (one,) in season.ledger.execute("SELECT occurrence_id FROM past")}
        new = lines[~lines["occurrence_id"].isin(known)]
        insert(season.ledger, "past", new.assign(season=season_label, file=file.name, run=run))
        entry = Entry("coordinator", "past season", season_label, became=f"{len(new)} records of {file.name}")
        write_down(season.ledger, (season.today, run), [entry])
    without = size - len(lines)
    print(f"{len(new)} records of season {season_label} taken in, {len(lines) - len(new)} were known already"
          f"{f', {without} without an id or a tag left out' if without else ''}. {THEN_RUN}")  # fmt: skip
    return 0
