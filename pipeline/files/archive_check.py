"""Looks at a finished archive as a stranger would: what no schema of meta.xml or eml.xml can see is seen here."""

from __future__ import annotations

import zipfile
from collections.abc import Iterator
from pathlib import Path
from typing import IO, NamedTuple
from xml.etree.ElementTree import Element, ParseError

import numpy as np
import pyarrow as pa
import pyarrow.compute as pc
import pyarrow.csv as pacsv
from defusedxml import ElementTree

from pipeline.files.schemas import table

TEXT = "{http://rs.tdwg.org/dwc/text/}"
EML = "{https://eml.ecoinformatics.org/eml-2.2.0}eml"
FORM = {
    "encoding": "UTF-8", "fieldsTerminatedBy": ",", "linesTerminatedBy": "\\n", "fieldsEnclosedBy": '"',
    "ignoreHeaderLines": "1",
}  # fmt: skip
NULL_MARKER = "\\N"
BLOCK_BYTES = 1 << 23


class _Part(NamedTuple):
    """A table as meta.xml tells of it: the file, the number of its id column (-1 for none), and term by column."""

    element: Element
    file: str
    id_column: int
    terms: dict[int, str]


def faults(path: Path) -> list[str]:
    """What is wrong with an archive, a plain sentence each; empty if a portal can take it."""
    try:
        with zipfile.ZipFile(path) as archive:
            return list(_faults(archive))
    except (zipfile.BadZipFile, ParseError, KeyError, pa.ArrowInvalid) as fault:
        return [f"The archive cannot be read: {fault}"]


def _faults(archive: zipfile.ZipFile) -> Iterator[str]:
    members = archive.namelist()
    if "meta.xml" not in members:
        yield "The archive has no meta.xml."
        return
    root = ElementTree.fromstring(archive.read("meta.xml"))
    parts = [_part(each) for each in root if each.tag in (f"{TEXT}core", f"{TEXT}extension")]
    cores = [part for part in parts if part.element.tag == f"{TEXT}core"]
    if root.tag != f"{TEXT}archive" or len(cores) != 1:
        yield "meta.xml does not tell of exactly one core."
        return
    described = root.get("metadata", "")
    told = {"meta.xml", described, *(part.file for part in parts)}
    yield from (f"meta.xml speaks of {name}, which is not in the archive." for name in sorted(told - {*members}))
    yield from (f"The archive holds {name}, of which meta.xml does not speak." for name in sorted({*members} - told))
    if set(members) != told:
        return
    yield from _of_description(ElementTree.fromstring(archive.read(described)))
    ids = pa.array([], pa.string())
    for part in (*cores, *(part for part in parts if part not in cores)):
        yield from _of_descriptor(part, part in cores, len(parts) > 1)
        with archive.open(part.file) as member:
            own, found = _of_table(member, part)
        yield from found
        if own is None:
            return  # refused already, and nothing can be held against its records
        if part in cores:
            ids = own
            yield from _of_ids(part, own)
        elif pc.any(pc.invert(pc.is_in(pc.unique(own), value_set=ids))).as_py():
            yield f"{part.file} has lines whose record is not in {cores[0].file}."


def _part(element: Element) -> _Part:
    identifier = next((each for each in element if each.tag in (f"{TEXT}id", f"{TEXT}coreid")), None)
    terms = {int(each.get("index", "-1")): each.get("term", "") for each in element.iter(f"{TEXT}field")}
    file = element.findtext(f"{TEXT}files/{TEXT}location", "")
    return _Part(element, file, -1 if identifier is None else int(identifier.get("index", "-1")), terms)


def _of_descriptor(part: _Part, is_core: bool, has_extensions: bool) -> Iterator[str]:
    """What meta.xml says of one table."""
    if part.id_column < 0 and (not is_core or has_extensions):
        yield f"meta.xml does not say which column of {part.file} names the record."
    kind = "core" if is_core else "extension"
    if part.element.get("rowType") not in {
        line["row_type"] for line in table("archive/files.csv") if line["kind"] == kind
    }:
        yield f"meta.xml gives {part.file} a kind of row that is not ours."
    if any(part.element.get(name) != form for name, form in FORM.items()):
        yield f"meta.xml does not say in full how {part.file} is written."
    known = {line["iri"] for line in table("darwin_core_terms.csv")}
    unknown = sorted(set(part.terms.values()) - known)
    if unknown:
        yield f"meta.xml has a term for {part.file} that is not on the list of terms: {unknown[0]}"
    if len(set(part.terms.values())) < len(part.terms):
        yield f"meta.xml has a term twice for {part.file}."


def _of_table(member: IO[bytes], part: _Part) -> tuple[pa.Array | None, list[str]]:
    """The id of each line of a table, and what is wrong with its headings and cells.

    A line with more or fewer cells than there are headings cannot be read at all.
    """
    found, own = [], []
    parsing = pacsv.ParseOptions(newlines_in_values=True)
    heading = member.readline().decode().rstrip("\n").split(",")
    member.seek(0)
    columns = set(part.terms) | {part.id_column}
    if columns != set(range(len(heading))):
        found.append(f"{part.file} has {len(heading)} columns, but meta.xml tells of other ones.")
        return None, found
    if any(part.terms.get(at, name).rpartition("/")[2] != name for at, name in enumerate(heading)):
        found.append(f"A heading of {part.file} is not the name of its term.")
    types = dict.fromkeys(heading, pa.string())
    reader = pacsv.open_csv(
        member, parse_options=parsing, read_options=pacsv.ReadOptions(block_size=BLOCK_BYTES),
        convert_options=pacsv.ConvertOptions(
            column_types=types, strings_can_be_null=False, quoted_strings_can_be_null=False
        ),
    )  # fmt: skip
    for batch in reader:
        own.append(batch.column(part.id_column))
        if any(pc.any(pc.equal(column, NULL_MARKER)).as_py() for column in batch.columns):
            found.append(f"{part.file} has cells that say {NULL_MARKER} for nothing.")
    return pa.chunked_array(own, pa.string()).combine_chunks(), list(dict.fromkeys(found))


def _of_ids(part: _Part, ids: pa.Array) -> Iterator[str]:
    if pc.any(pc.equal(ids, "")).as_py():
        yield f"{part.file} has records without an id."
    if len(pc.unique(ids)) < len(ids):
        yield f"{part.file} has an id on more than one line."


def _of_description(root: Element) -> Iterator[str]:
    """What the schema of EML lets pass or a data desk misses."""
    if root.tag != EML or not root.get("packageId") or not root.get("system"):
        yield "eml.xml is not a document of EML 2.2.0 with an id and a system."
    for name, words in {
        "title": "title",
        "creator": "publisher",
        "contact": "contact",
        "intellectualRights": "licence",
    }.items():
        element = root.find(f"dataset/{name}")
        if element is None or not "".join(element.itertext()).strip():
            yield f"The dataset has no {words}: fill in the settings under [programme]."
    ids = [each.get("id") for each in root.iter() if each.get("id")]
    if len(ids) > len(set(ids)):
        yield "eml.xml has an id twice."
    if any(each.text not in ids for each in root.iter("references")):
        yield "eml.xml refers to an id that is not in it."
    box = [
        float(each.text or "nan") for each in root.iterfind("dataset/coverage/geographicCoverage/boundingCoordinates/*")
    ]
    if box and (np.isnan(box).any() or max(map(abs, box)) > 180 or box[3] > box[2]):
        yield "The dataset's bounding box is not one."
