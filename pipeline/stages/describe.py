"""What came: a line a file and a line a heading, for the rules about files and headings."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

import pandas as pd

from pipeline.model import FileRead, Table
from pipeline.values.lists import Field
from pipeline.values.send_instead import send_instead

FILE_COLUMNS = [
    "file", "person_id", "file_sha256", "received", "refusal", "what", "tables", "sheets_with_data", "sheet_names",
    "rows_read", "copy_of", "is_sender_known", "writer", "senders_told",
    "instead",
]  # fmt: skip
HEADING_COLUMNS = [
    "table_id", "person_id", "file", "file_sha256", "sheet", "table", "row", "column", "heading", "field", "guess",
    "also",
    "is_missing", "is_needed", "some_needed_is_missing", "is_hidden",
]  # fmt: skip
PLACE_PARTS = frozenset({"coordinates", "latitudeDegrees", "easting", "mgrs"})
PARTS_OF = {"eventDate": {"month"}, "tagCode": {"tagDigits"}}


def describe_files(reads: Iterable[FileRead], tables: Iterable[Table], rows_read: Mapping[str, int]) -> pd.DataFrame:
    """A line a file: how many tables and rows were found in it, on which sheets; the sender and day are added later.

    `rows_read` by SHA-256.
    """
    found: dict[str, list[str]] = {}
    for table in tables:
        found.setdefault(table.sheet.file_sha256, []).append(table.sheet.name)
    lines = [
        (
            read.file,
            "",
            read.file_sha256,
            pd.NaT,
            read.refusal,
            read.what,
            len(found.get(read.file_sha256, [])) if read.sheets else 0,
            sum(1 for sheet in read.sheets if any(any(cell.strip() for cell in row) for row in sheet.texts)),
            ", ".join(dict.fromkeys(found.get(read.file_sha256, []))) if read.sheets else "",
            rows_read.get(read.file_sha256, 0) if read.sheets else 0,
            "",
            False,
            read.writer,
            "",
            send_instead(read.what) if read.refusal else "",
        )
        for read in reads
    ]
    return pd.DataFrame(lines, columns=FILE_COLUMNS).astype({"received": "datetime64[s]"})


def describe_headings(tables: Sequence[Table], fields: Sequence[Field], has_default_species: bool) -> pd.DataFrame:
    """A line a column of a table, and a line for each needed field that no column of it holds."""
    needed = {field.name for field in fields if field.needed == "yes"} | set(
        () if has_default_species else ("scientificName",)
    )
    places = {field.name for field in fields if field.needed == "place"}
    lines = [line for number, table in enumerate(tables) for line in _headings(number, table, needed, places)]
    return pd.DataFrame(lines, columns=HEADING_COLUMNS)


def _headings(number: int, table: Table, needed: set[str], places: set[str]) -> list[tuple[object, ...]]:
    held = {heading.field for heading in table.headings} | set(table.given_once)
    missing = sorted(name for name in needed if name not in held and not PARTS_OF.get(name, set()) & held)
    has_place = bool(held & (places | PLACE_PARTS))
    wanted = needed if has_place else needed | places
    is_short = bool(missing) or not has_place
    sheet = table.sheet
    address = (number, "", sheet.file, sheet.file_sha256, sheet.name, table.number, table.heading_row)
    first = {heading.field: heading.written for heading in reversed(table.headings) if heading.field}
    lines: list[tuple[object, ...]] = [
        (
            *address,
            heading.column,
            heading.written,
            heading.field,
            heading.guess,
            first.get(heading.guess, "") if not heading.field else "",
            False,
            (heading.field or heading.guess) in wanted,
            is_short,
            heading.column in sheet.hidden_columns,
        )
        for heading in table.headings
    ]
    lost = [*missing, *([] if has_place else ["locality"])]
    return lines + [(*address, -1, "", name, "", "", True, True, True, False) for name in lost]
