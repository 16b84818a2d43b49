"""archive.zip: the whole dataset as of the last batch, a Darwin Core archive; the same ledger gives the same bytes."""

from __future__ import annotations

import hashlib
import sqlite3
import zipfile
from collections.abc import Sequence
from contextlib import suppress
from importlib.metadata import version
from pathlib import Path
from typing import IO, NamedTuple

import pyarrow as pa
import pyarrow.csv as pacsv

from pipeline.files.archive_batches import BATCHES, lost_batches
from pipeline.files.archive_check import faults
from pipeline.files.archive_meta import meta_xml
from pipeline.files.archive_tables import CORE, Whole, whole
from pipeline.files.csv_files import OPTIONS
from pipeline.files.eml import eml_xml
from pipeline.files.eml_coverage import coverage_of
from pipeline.files.outbox import STAGING, unless_held_open
from pipeline.files.schemas import text
from pipeline.settings import Settings

NAME = "archive.zip"
EARLY = (1980, 1, 1, 0, 0, 0)  # the first day that a zip file can hold
LEVEL = 3  # a third of the time of the usual level, a fifth more bytes
PIECE = 50_000  # lines written at a time
LARGE = 1 << 30  # bytes of a member from which the wider form of a zip file is used, to be safe
READABLE = 0o644 << 16
MADE_WITH = ("portal_columns.csv", "archive/files.csv", "archive/licences.csv")  # tables that the archive depends on


class Renewed(NamedTuple):
    """What came of the archive: why it may not leave, its path if that is held open, what else is to be said."""

    refusals: tuple[str, ...] = ()
    held_open: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()


def renew_archive(outbox: Path, ledger: sqlite3.Connection, settings: Settings) -> Renewed:
    """Writes the archive anew if anything that it is made of changed; one that is not right stays in the house.

    A million records take about ten seconds; an archive that is as it should be is only asked for its mark.
    """
    place, mark = outbox / "portal" / NAME, _mark(ledger, settings)
    if not mark or mark == archive_mark(place):
        return Renewed()
    if lost := lost_batches(ledger):
        told = "is neither in the ledger nor in outbox/portal as it was written: put its folder back, then run again"
        return Renewed(notes=tuple(f"archive.zip stays as it was, for batch {batch_id} {told}" for batch_id in lost))
    staged = outbox / STAGING / NAME
    staged.parent.mkdir(parents=True, exist_ok=True)
    tables = whole(ledger)
    write_archive(staged, tables, _description(tables, ledger, settings), mark)
    found = [*faults(staged), *_other_ids(tables, ledger)]
    if found:
        return Renewed(refusals=tuple(f"archive.zip stays as it was: {fault}" for fault in found))
    place.parent.mkdir(parents=True, exist_ok=True)
    stuck = unless_held_open(place, staged.replace)
    with suppress(OSError):  # not empty: the next run clears it
        staged.parent.rmdir()
    return Renewed(held_open=tuple(stuck))


def write_archive(path: Path, tables: Whole, description: str, mark: str) -> None:
    """Writes the five members in the order of their names; `mark` tells later of what the archive was made."""
    texts = {"eml.xml": description, "meta.xml": meta_xml({name: each.column_names for name, each in tables.items()})}
    members = sorted([*texts, *(f"{name}.csv" for name in tables)])
    with zipfile.ZipFile(path, "w") as archive:
        archive.comment = mark.encode()
        for name in members:
            table = tables.get(name.removesuffix(".csv"))
            is_large = table is not None and table.nbytes > LARGE // 4
            with archive.open(_member(name), "w", force_zip64=is_large) as member:
                if table is None:
                    member.write(texts[name].encode())
                else:
                    _write_table(member, table)


def archive_mark(path: Path) -> str:
    """The mark of an archive that lies in the outbox; "" if there is none or it cannot be opened."""
    try:
        with zipfile.ZipFile(path) as archive:
            return archive.comment.decode(errors="replace")
    except (OSError, zipfile.BadZipFile):
        return ""


def _mark(ledger: sqlite3.Connection, settings: Settings) -> str:
    """Tells this dataset and description from any other; "" while nothing was published."""
    batches = ledger.execute(BATCHES.replace("batch_id", "batch_id, day, sha256s", 1)).fetchall()
    if not batches:
        return ""
    ours = (version("tagsheaf"), *map(text, MADE_WITH))
    told = repr((batches, settings.programme, settings.portal, settings.privacy, ours))
    return f"as of batch {batches[-1][0]}, {hashlib.sha256(told.encode()).hexdigest()[:16]}"


def _description(tables: Whole, ledger: sqlite3.Connection, settings: Settings) -> str:
    (day,) = ledger.execute("SELECT max(day) FROM batches").fetchone()
    return eml_xml(settings, coverage_of(tables[CORE]), day)


def _other_ids(tables: Whole, ledger: sqlite3.Connection) -> Sequence[str]:
    """No id leaves in silence: the archive has as many records as the ledger says are at the portal."""
    at_portal = "SELECT count(DISTINCT occurrence_id) FROM rows WHERE digest != ''"
    (count,) = ledger.execute(at_portal).fetchone()
    there = tables[CORE].num_rows
    return [] if count == there else [f"The archive has {there} records, but the ledger has {count} at the portal."]


def _member(name: str) -> zipfile.ZipInfo:
    member = zipfile.ZipInfo(name, EARLY)
    member.compress_type, member.create_system, member.external_attr = zipfile.ZIP_DEFLATED, 3, READABLE
    member._compresslevel = LEVEL  # type: ignore[attr-defined]
    return member


def _write_table(member: IO[bytes], table: pa.Table) -> None:
    schema = pa.schema([(name, pa.large_string()) for name in table.column_names])
    with pacsv.CSVWriter(member, schema, write_options=OPTIONS) as writer:
        for start in range(0, table.num_rows, PIECE):
            writer.write_table(table.slice(start, PIECE).cast(schema))
