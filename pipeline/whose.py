"""Whose each sheet, row, file and heading is, and whether a row is a release or a find."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import pandas as pd

from pipeline.files.programme import ProgrammeFolder
from pipeline.files.runs import Came
from pipeline.frames import known_of
from pipeline.model import Table
from pipeline.remembered import Remembered
from pipeline.stages.describe import describe_files, describe_headings
from pipeline.stages.look_up_tags import tag_facts
from pipeline.stages.match import says_find
from pipeline.stages.senders import by_address, by_allotment, by_folder, by_name
from pipeline.values.allotment import Tag
from pipeline.values.text import tidy

O_IS_WEST = frozenset({"fr", "es"})  # languages in which west begins with O


def senders_by_sheet(tables: Sequence[Table], people: pd.DataFrame, known: Remembered) -> dict[int, str]:
    """By table: the sender as answered, else whom the folder, the mail or a name on the sheet tells."""
    ids, names = _ids(people), _names(people)
    return {
        number: known.senders.get(table.sheet.file_sha256)
        or by_folder(table.sheet.file, ids)
        or by_address(known.writers.get(table.sheet.file_sha256, ""), people)
        or by_name(_names_on(table), names)
        for number, table in enumerate(tables)
    }


def senders_told(tables: Sequence[Table], people: pd.DataFrame, known: Remembered) -> dict[str, str]:
    """By SHA-256: the people to whom folder, mail and a name above the table point, where they are not of one group."""
    ids, names = _ids(people), _names(people)
    groups = dict(zip(people["person_id"], people["group"], strict=True))
    found: dict[str, str] = {}
    for table in tables:
        sha256 = table.sheet.file_sha256
        above = [text for name, (text, _, _) in table.given_once.items() if name == "recordedBy"]
        folder, mail = by_folder(table.sheet.file, ids), by_address(known.writers.get(sha256, ""), people)
        told = list(dict.fromkeys(filter(None, (folder, mail, by_name(above, names)))))
        are_of_one_group = len({groups[person] or person for person in told}) < 2
        if sha256 not in known.senders and not are_of_one_group:
            found[sha256] = ", ".join(told)
    return found


def _ids(people: pd.DataFrame) -> dict[str, str]:
    return {person.lower(): person for person in people["person_id"]}


def _names(people: pd.DataFrame) -> dict[str, str]:
    return {tidy(name): person for name, person in zip(people["name"], people["person_id"], strict=True) if name}


def _names_on(table: Table) -> set[str]:
    above = {text for name, (text, _, _) in table.given_once.items() if name == "recordedBy"}
    columns = [heading.column for heading in table.headings if heading.field == "recordedBy"]
    cells = {
        row[column]
        for column in columns
        for row in table.sheet.texts[table.first_row - 1 : table.last_row]
        if column < len(row)
    }
    return above | cells


def with_kind_and_sender(
    rows: pd.DataFrame,
    tables: Sequence[Table],
    by_sheet: Mapping[int, str],
    programme: ProgrammeFolder,
    tags: Mapping[str, Tag],
) -> pd.DataFrame:
    """Every row a release or a find, with the person who sent it and the facts about its tag's allotment."""
    words = programme.lists.choices["record_kind"]
    kinds = {number: "find" if says_find(table, words) else "release" for number, table in enumerate(tables)}
    is_known = rows["recordKind"].isin(["release", "find"])
    rows["recordKind"] = rows["recordKind"].where(is_known, rows["table_id"].map(kinds)).astype("str")
    species = rows["scientificName"].where(rows["scientificName_written"] != "", programme.settings.species.default)
    rows["scientificName"] = species
    rows = rows.assign(**tag_facts(rows, tags, programme.settings, bool(programme.tags)))
    person = known_of(rows["table_id"], by_sheet)
    allotted = known_of(
        rows["file_sha256"],
        by_allotment(rows.loc[person == "", ["file_sha256", "recordKind", "tagCode", "tag_person_id"]]),
    ).where(rows["recordKind"] == "release", "")
    rows.insert(0, "person_id", person.where(person != "", allotted).astype("str"))
    return rows


def files_frame(
    came: Came,
    tables: Sequence[Table],
    rows_of_file: Mapping[str, int],
    rows: tuple[pd.DataFrame, pd.DataFrame],
    people: pd.DataFrame,
) -> pd.DataFrame:
    """What came, a line a file, with its sender; `rows` are the current rows and those put aside."""
    current, aside = rows
    known = came.remembered
    files = describe_files(came.reads, tables, rows_of_file)
    files["copy_of"] = known_of(files["file"], came.copies)
    ids = _ids(people)
    every = pd.concat([current[["file_sha256", "person_id"]], aside[["file_sha256", "person_id"]]])
    by_rows = every[every["person_id"] != ""].drop_duplicates("file_sha256").set_index("file_sha256")["person_id"]
    told = [
        known.senders.get(sha256) or by_folder(file, ids) or by_address(known.writers.get(sha256, ""), people)
        for file, sha256 in files[["file", "file_sha256"]].itertuples(index=False)
    ]
    folder = pd.Series(told, index=files.index, dtype="str")
    files["person_id"] = folder.where(folder != "", known_of(files["file_sha256"], by_rows))
    releases = set(current.loc[(current["recordKind"] == "release") & (current["person_id"] == ""), "file_sha256"])
    files["is_sender_known"] = (files["person_id"] != "") | ~files["file_sha256"].isin(releases)
    files["writer"] = known_of(files["file_sha256"], known.writers).where(files["writer"] == "", files["writer"])
    files["senders_told"] = known_of(files["file_sha256"], senders_told(tables, people, known))
    files["received"] = files["file_sha256"].map(came.received).astype("datetime64[s]")
    return files


def headings_frame(tables: Sequence[Table], files: pd.DataFrame, programme: ProgrammeFolder) -> pd.DataFrame:
    """A line a column of each table, and one for each needed field that none holds, with the sender of its file."""
    has_default = bool(programme.settings.species.default)
    headings = describe_headings(tables, programme.lists.fields, has_default)
    people = dict(zip(files["file_sha256"], files["person_id"], strict=True))
    return headings.assign(person_id=known_of(headings["file_sha256"], people))


def west_writers(people: pd.DataFrame) -> frozenset[str]:
    """The people who write O for west."""
    return frozenset(people.loc[people["language"].isin(O_IS_WEST), "person_id"])
