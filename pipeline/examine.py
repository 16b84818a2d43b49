"""The pure half of a run, stage after stage: from the files as read to row states and questions."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, replace

import pandas as pd

from pipeline.answer_files import about_butterflies
from pipeline.catalogue import catalogue
from pipeline.facts import with_facts
from pipeline.files.programme import ProgrammeFolder
from pipeline.files.runs import Came
from pipeline.files.schemas import heading_names
from pipeline.frames import FINDING_COLUMNS
from pipeline.model import Table
from pipeline.remembered import Remembered
from pipeline.stages.answered_tables import with_answers
from pipeline.stages.ask import ask
from pipeline.stages.come_again import Known, come_again
from pipeline.stages.confirm import confirmed
from pipeline.stages.describe_answers import describe_answers
from pipeline.stages.gather import gather
from pipeline.stages.learnt import with_learnt
from pipeline.stages.look_up_tags import tag_facts
from pipeline.stages.map_headings import map_headings
from pipeline.stages.match import match, set_aside, set_aside_by_reading
from pipeline.stages.normalise import normalise
from pipeline.stages.put_in import put_in
from pipeline.stages.settle import settle
from pipeline.stages.split_rows import codes_in_cells, split_rows
from pipeline.stages.validate import Frames, validate
from pipeline.values.allotment import Tag
from pipeline.values.atlas import Atlas
from pipeline.values.readers import typed_reader
from pipeline.whose import files_frame, headings_frame, senders_by_sheet, west_writers, with_kind_and_sender
from pipeline.whose_tags import tags_of_people, tags_of_rows


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
    holders: frozenset[str] | None  # the people of whom every tag is among them; None for everybody
    links: Mapping[str, tuple[str, str]]  # rows that came again, new in this run: place to key and how
    matched: Mapping[tuple[str, str], str]  # files held against the earlier ones in this run
    shas: frozenset[str]  # of every file that anything here is about
    elsewhere: pd.DataFrame  # the records of the ledger that were not looked at, as far as they matter here


def examine(came: Came, programme: ProgrammeFolder, atlas: Atlas) -> Examined:
    """Everything from the cells as read to the questions; question sheets that came back hold no rows."""
    known = came.remembered
    came = replace(came, reads=about_butterflies(came.reads))
    tables = _tables(came, programme.people)
    by_sheet = senders_by_sheet(tables, programme.people, known)
    records = gather(tables)
    normalised = normalise(records, programme.lists, programme.settings, _west(by_sheet, programme.people))
    tags = tags_of_rows(programme, {*normalised.rows["tagCode"], *codes_in_cells(normalised.rows)}, known)
    rows = with_kind_and_sender(normalised.rows, tables, by_sheet, programme, tags)
    tags, holders = tags_of_people(programme, tags, rows, known)
    current = _current(rows, records.places, known, programme, tags)
    current.rows["received"] = current.rows["file_sha256"].map(came.received).astype("datetime64[s]")
    rows = with_facts(current.rows, records.places, known, (programme, tags), atlas)
    files = files_frame(came, tables, current.rows_of_file, (current.rows, current.aside), programme.people)
    headings = headings_frame(tables, files, programme)
    answers = describe_answers(known.problems, rows)
    found = validate(Frames(rows, files, headings, records.places, answers), catalogue())
    findings = confirmed(found, known.waivers, current.at_rest | known.at_rest)
    rows = rows.join(settle(rows, findings, catalogue(), _clear_tags(known.elsewhere)))
    return Examined(
        tables=tables,
        rows_of_table=Counter(records.rows["table_id"].tolist()),
        files=files,
        rows=rows,
        aside=pd.concat([current.aside, set_aside_by_reading(dict(enumerate(tables)))], ignore_index=True),
        changes=_changes(pd.concat([normalised.changes, current.changes]), rows, records.places),
        findings=findings[list(FINDING_COLUMNS)],
        questions=ask(findings, catalogue(), rows["table_id"].value_counts(), _finders(rows)),
        tags=tags,
        holders=holders,
        links=current.links,
        matched=current.matched,
        elsewhere=known.elsewhere,
        shas=frozenset([*files["file_sha256"], *answers["file_sha256"]]),
    )


def _tables(came: Came, people: pd.DataFrame) -> tuple[Table, ...]:
    """The tables of all sheets, their headings as they were answered about."""
    known = came.remembered
    found = [table for read in came.reads for sheet in read.sheets for table in map_headings(sheet, heading_names())]
    headings = with_learnt(found, senders_by_sheet(found, people, known), known.headings) if known.headings else {}
    return with_answers(found, headings, known.given)


def _west(by_sheet: Mapping[int, str], people: pd.DataFrame) -> frozenset[int]:
    """The tables whose sender writes O for west."""
    writers = west_writers(people)
    return frozenset(number for number, person in by_sheet.items() if person in writers)


@dataclass(frozen=True)
class _Current:
    """The rows that count, with the answers in them, and what was learnt on the way."""

    rows: pd.DataFrame
    aside: pd.DataFrame
    changes: pd.DataFrame
    at_rest: frozenset[tuple[str, str]]
    links: Mapping[str, tuple[str, str]]
    matched: Mapping[tuple[str, str], str]
    rows_of_file: Mapping[str, int]


def _current(
    rows: pd.DataFrame,
    places: pd.DataFrame,
    known: Remembered,
    programme: ProgrammeFolder,
    tags: Mapping[str, Tag],
) -> _Current:
    settings = programme.settings
    placed = match(rows, settings.programme.id)
    again = come_again(placed.rows, places, Known(known.links, known.matched, known.order, known.before))
    answered = put_in(
        again.rows, known.answers, typed_reader(programme.lists, settings, west_writers(programme.people)), settings
    )
    rows = split_rows(answered.rows, known.answers)
    if len(answered.changes) or len(rows) > len(answered.rows):
        rows = rows.assign(**tag_facts(rows, tags, settings, bool(programme.tags)))
    kept = set_aside(rows, known.withdrawn)
    return _Current(
        kept.rows, pd.concat([placed.aside, again.aside, kept.aside], ignore_index=True), answered.changes,
        answered.at_rest, again.links, again.matched, Counter(placed.rows["file_sha256"].tolist()),
    )  # fmt: skip


def _clear_tags(elsewhere: pd.DataFrame) -> pd.Series:
    is_clear = (elsewhere["recordKind"] == "release") & (elsewhere["state"] == "clear")
    return elsewhere.loc[is_clear, "tagCode"]


def _finders(rows: pd.DataFrame) -> dict[str, str]:
    """By key of a find that nobody of people.csv reported: the folder of its letter."""
    finds = rows.loc[(rows["recordKind"] == "find") & (rows["person_id"] == ""), "key"]
    return {key: f"finders/{find_id(key)}" for key in finds}


def find_id(key: str) -> str:
    """The short name of a find: the first 12 hexadecimal digits of its key."""
    return key.replace("-", "")[:12]


def _changes(changes: pd.DataFrame, rows: pd.DataFrame, places: pd.DataFrame) -> pd.DataFrame:
    """The changes of current rows, with the row and column in which the cell stands."""
    address = ["key", "person_id", "file", "file_sha256", "sheet", "table_id", "row"]
    known = rows[address].join(changes, how="inner")
    columns = places.rename(columns={"row": "own_row"})[["table_id", "field", "column", "own_row"]]
    placed = known.merge(columns, on=["table_id", "field"], how="left")
    placed["row"] = placed["row"].where(placed["own_row"].fillna(0) == 0, placed["own_row"]).astype("int64")
    placed["column"] = placed["column"].fillna(-1).astype("int64")
    return placed.drop(columns="own_row").sort_values(["file", "sheet", "row", "column"], kind="stable")
