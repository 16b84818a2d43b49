"""The pure half of a run, stage after stage: from the files as read to row states and questions."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import pandas as pd

from pipeline.catalogue import catalogue
from pipeline.files.programme import ProgrammeFolder
from pipeline.files.runs import Came
from pipeline.files.schemas import heading_names
from pipeline.frames import FINDING_COLUMNS, known_of
from pipeline.model import Table
from pipeline.stages.answers import holds_answers
from pipeline.stages.ask import ask
from pipeline.stages.describe import describe_files, describe_headings
from pipeline.stages.gather import gather
from pipeline.stages.look_up import look_up
from pipeline.stages.look_up_days import look_up_days
from pipeline.stages.look_up_neighbours import look_up_neighbours
from pipeline.stages.look_up_people import look_up_people
from pipeline.stages.look_up_places import look_up_places
from pipeline.stages.look_up_tags import own_tag_facts, tag_facts, tags_elsewhere
from pipeline.stages.map_headings import map_headings
from pipeline.stages.match import match, says_find, set_aside_by_reading
from pipeline.stages.normalise import normalise
from pipeline.stages.senders import by_allotment, by_folder, by_name
from pipeline.stages.settle import settle
from pipeline.stages.validate import Frames, validate
from pipeline.values.allotment import Tag, allotted_tags
from pipeline.values.atlas import Atlas
from pipeline.values.text import tidy

O_IS_WEST = ("fr", "es")


@dataclass(frozen=True)
class Examined:
    """All that is known of the sheets once every stage but the batch has run."""

    tables: tuple[Table, ...]
    rows_of_table: Mapping[int, int]  # records of each table, copies among them
    files: pd.DataFrame
    rows: pd.DataFrame  # the current rows with every fact, and state, reason, withheld
    aside: pd.DataFrame  # copies and rows left out
    changes: pd.DataFrame  # with the address of the cell
    findings: pd.DataFrame
    questions: pd.DataFrame
    tags: Mapping[str, Tag]


def examine(came: Came, programme: ProgrammeFolder, atlas: Atlas) -> Examined:
    """Everything from the cells as read to the questions; question sheets that came back are left for later."""
    came = replace(came, reads=tuple(read for read in came.reads if not holds_answers(read)))
    tables = tuple(
        table for read in came.reads for sheet in read.sheets for table in map_headings(sheet, heading_names())
    )
    by_sheet = _senders_by_sheet(tables, programme.people)
    records = gather(tables)
    speaks = dict(zip(programme.people["person_id"], programme.people["language"], strict=True))
    west = frozenset(number for number, person in by_sheet.items() if speaks.get(person) in O_IS_WEST)
    normalised = normalise(records, programme.lists, programme.settings, west)
    tags = allotted_tags(programme.tags, programme.settings.season.label)
    rows = _with_kind_and_sender(normalised.rows, tables, by_sheet, programme, tags)
    matched = match(rows, programme.settings.programme.id)
    matched.rows["received"] = matched.rows["file"].map(came.received).astype("datetime64[s]")
    rows = _with_facts(matched.rows, records.places, programme, tags, atlas)
    files = _files(came, tables, rows, programme.people)
    headings = _headings(tables, files, programme)
    findings = validate(Frames(rows, files, headings, records.places), catalogue())
    rows = rows.join(settle(rows, findings, catalogue()))
    aside = pd.concat([matched.aside, set_aside_by_reading(dict(enumerate(tables)))], ignore_index=True)
    return Examined(
        tables=tables,
        rows_of_table=Counter(records.rows["table_id"].tolist()),
        files=files,
        rows=rows,
        aside=aside,
        changes=_changes(normalised.changes, rows, records.places),
        findings=findings[list(FINDING_COLUMNS)],
        questions=ask(findings, catalogue(), rows["table_id"].value_counts(), _finders(rows)),
        tags=tags,
    )


def _senders_by_sheet(tables: Sequence[Table], people: pd.DataFrame) -> dict[int, str]:
    """By table: the sender whom the folder or a name on the sheet tells."""
    ids = {person.lower(): person for person in people["person_id"]}
    names = {tidy(name): person for name, person in zip(people["name"], people["person_id"], strict=True) if name}
    return {
        number: by_folder(table.sheet.file, ids) or by_name(_names_on(table), names)
        for number, table in enumerate(tables)
    }


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


def _with_kind_and_sender(
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
    rows = rows.assign(**tag_facts(rows, tags, programme.settings))
    person = known_of(rows["table_id"], by_sheet)
    allotted = known_of(
        rows["file"], by_allotment(rows.loc[person == "", ["file", "recordKind", "tagCode", "tag_person_id"]])
    ).where(rows["recordKind"] == "release", "")
    rows.insert(0, "person_id", person.where(person != "", allotted).astype("str"))
    return rows


def _with_facts(
    rows: pd.DataFrame,
    places: pd.DataFrame,
    programme: ProgrammeFolder,
    tags: Mapping[str, Tag],
    atlas: Atlas,
) -> pd.DataFrame:
    groups = dict(zip(programme.people["person_id"], programme.people["group"], strict=True))
    rows = rows.assign(
        **look_up(rows, places, programme.lists, programme.settings),
        **look_up_days(rows, programme.settings),
        **look_up_places(rows, (programme.homes, programme.sites), programme.settings, atlas),
        **look_up_people(rows, programme.people),
        **own_tag_facts(rows, tags, groups, programme.settings),
    )
    return rows.assign(**tags_elsewhere(rows), **look_up_neighbours(rows))


def _files(came: Came, tables: Sequence[Table], rows: pd.DataFrame, people: pd.DataFrame) -> pd.DataFrame:
    files = describe_files(came.reads, tables, Counter(rows["file"].tolist()))
    files["copy_of"] = known_of(files["file"], came.copies)
    ids = {person.lower(): person for person in people["person_id"]}
    by_rows = rows[rows["person_id"] != ""].drop_duplicates("file").set_index("file")["person_id"]
    folder = pd.Series([by_folder(file, ids) for file in files["file"]], index=files.index, dtype="str")
    files["person_id"] = folder.where(folder != "", known_of(files["file"], by_rows))
    releases = set(rows.loc[(rows["recordKind"] == "release") & (rows["person_id"] == ""), "file"])
    files["is_sender_known"] = (files["person_id"] != "") | ~files["file"].isin(releases)
    files["received"] = files["file"].map(came.received).astype("datetime64[s]")
    return files


def _headings(tables: Sequence[Table], files: pd.DataFrame, programme: ProgrammeFolder) -> pd.DataFrame:
    has_default = bool(programme.settings.species.default)
    headings = describe_headings(tables, programme.lists.fields, has_default)
    people = dict(zip(files["file"], files["person_id"], strict=True))
    return headings.assign(person_id=known_of(headings["file"], people))


def _finders(rows: pd.DataFrame) -> dict[str, str]:
    """By key of a find that nobody of people.csv reported: the folder of its letter."""
    finds = rows.loc[(rows["recordKind"] == "find") & (rows["person_id"] == ""), "key"]
    return {key: f"finders/{find_id(key)}" for key in finds}


def find_id(key: str) -> str:
    """The short name of a find: the first 12 hexadecimal digits of its key."""
    return key.replace("-", "")[:12]


def _changes(changes: pd.DataFrame, rows: pd.DataFrame, places: pd.DataFrame) -> pd.DataFrame:
    """The changes of current rows, with the row and column in which the cell stands."""
    address = ["key", "person_id", "file", "sheet", "table_id", "row"]
    known = rows[address].join(changes, how="inner")
    columns = places.rename(columns={"row": "own_row"})[["table_id", "field", "column", "own_row"]]
    placed = known.merge(columns, on=["table_id", "field"], how="left")
    placed["row"] = placed["row"].where(placed["own_row"].fillna(0) == 0, placed["own_row"]).astype("int64")
    placed["column"] = placed["column"].fillna(-1).astype("int64")
    return placed.drop(columns="own_row").sort_values(["file", "sheet", "row", "column"], kind="stable")
