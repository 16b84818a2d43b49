"""Takes the table of records out of a Darwin Core archive, or out of a .zip that holds one table and nothing else."""

from __future__ import annotations

import errno
import shutil
import zipfile
import zlib
from dataclasses import dataclass
from pathlib import Path, PurePosixPath
from xml.etree.ElementTree import Element, ParseError

from defusedxml import ElementTree
from defusedxml.common import DefusedXmlException

from pipeline.files.audit_form import CannotBeAudited, Form, places_of
from pipeline.files.limits import LARGEST_RATIO, MOST_MEMBERS, SMALL

DESCRIPTOR = "meta.xml"
LARGEST_TABLE = 20_000_000_000  # bytes, unpacked: some 50 million records
TABLES = (".csv", ".tsv", ".txt", ".tab")
ESCAPES = {"\\t": "\t", "\\n": "\n", "\\r": "\r", "\\r\\n": "\r\n", "\\\\": "\\", "&quot;": '"'}
TEXT = "{*}"  # some write no namespace
MOST_PLACES = 10_000  # columns
FAULTS = (zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError, RuntimeError, ValueError, KeyError)


@dataclass(frozen=True)
class Unpacked:
    """The files that together are the table, and what the descriptor says of them, if there is one."""

    files: tuple[Path, ...]
    encoding: str = ""
    form: Form | None = None


def unpacked(path: Path, folder: Path) -> Unpacked:
    """The table of an archive, unpacked into the folder under names of our own; nothing else of it is touched."""
    try:
        with zipfile.ZipFile(path) as archive:
            members = [each for each in archive.infolist() if not each.is_dir()]
            if len(members) > MOST_MEMBERS:
                raise CannotBeAudited("it is an archive of unusually many files")
            described = min(
                (each for each in members if PurePosixPath(each.filename).name == DESCRIPTOR),
                key=lambda each: each.filename.count("/"),
                default=None,
            )
            if described is None:
                return Unpacked((_taken_out(archive, _only_table(members), folder / "table"),))
            return _as_described(archive, described, folder)
    except OSError as fault:
        if fault.errno != errno.EINVAL:  # as when a damaged directory points before the file's beginning
            raise
        raise CannotBeAudited("it is a damaged archive") from fault
    except FAULTS as fault:
        locked = "password" in str(fault) or "encrypted" in str(fault)
        raise CannotBeAudited("it has a password" if locked else "it is a damaged archive") from fault


def _only_table(members: list[zipfile.ZipInfo]) -> zipfile.ZipInfo:
    names = {each.filename for each in members}
    if "[Content_Types].xml" in names or "mimetype" in names:
        raise CannotBeAudited("it is a workbook or another document. Save its sheet as CSV first")
    tables = [each for each in members if _is_table(PurePosixPath(each.filename))]
    if len(tables) != 1:
        what = f"{len(tables)} tables" if tables else "no table"
        raise CannotBeAudited(f"it is an archive with {what} and without a meta.xml that says which to take")
    return tables[0]


def _is_table(name: PurePosixPath) -> bool:
    is_hidden = any(part.startswith((".", "__")) for part in name.parts)
    return name.suffix.lower() in TABLES and not is_hidden


def _as_described(archive: zipfile.ZipFile, described: zipfile.ZipInfo, folder: Path) -> Unpacked:
    if described.file_size > SMALL:
        raise CannotBeAudited("its meta.xml is of an unusual size")
    try:
        root = ElementTree.fromstring(archive.read(described), forbid_dtd=True)
    except (ParseError, DefusedXmlException) as fault:
        raise CannotBeAudited("its meta.xml cannot be read") from fault
    core = root.find(f"{TEXT}core")
    locations = [(each.text or "").strip() for each in root.findall(f"{TEXT}core/{TEXT}files/{TEXT}location")]
    if core is None or not locations:
        raise CannotBeAudited("its meta.xml names no core file")
    beside = described.filename.removesuffix(DESCRIPTOR)
    members = {each.filename: each for each in archive.infolist()}
    for name in locations:
        if beside + name not in members:
            raise CannotBeAudited(f"its meta.xml names {name}, which is not in it")
    form = _form(core)
    files = [
        _taken_out(archive, members[beside + name], folder / f"table-{number}") for number, name in enumerate(locations)
    ]
    return Unpacked(tuple(files), _encoding(core), form)


def _form(core: Element) -> Form:
    """As the text guide has it, with its defaults."""
    ends = _sign(core, "linesTerminatedBy", "\n")
    delimiter, quote = _sign(core, "fieldsTerminatedBy", ","), _sign(core, "fieldsEnclosedBy", '"')
    are_signs = len(delimiter) == 1 and len(quote) <= 1 and delimiter != quote and not {delimiter, quote} & {"\r", "\n"}
    if ends not in ("\n", "\r", "\r\n") or not are_signs:
        raise CannotBeAudited("its meta.xml names signs between lines or cells that we do not read")
    fields = [(each.get("index"), each.get("term") or "", each.get("default")) for each in core.findall(f"{TEXT}field")]
    columns = {int(index): term for index, term, _ in fields if index is not None}
    fixed = {-1 - number: term for number, (index, term, _) in enumerate(fields) if index is None}
    if any(not 0 <= place < MOST_PLACES for place in columns):
        raise CannotBeAudited("its meta.xml numbers columns in an unusual way")
    places = places_of(columns | fixed)
    of_place = {int(index): text for index, _, text in fields if index is not None and text}
    of_place |= {-1 - number: text for number, (index, _, text) in enumerate(fields) if index is None and text}
    return Form(
        delimiter,
        quote,
        max(int(core.get("ignoreHeaderLines") or 0), 0),
        max(columns, default=-1) + 1,
        {term: place for term, place in places.items() if place >= 0},
        {term: of_place[place] for term, place in places.items() if place in of_place},
        len(fields) - len(places),
    )


def _sign(core: Element, name: str, default: str) -> str:
    written = core.get(name)
    return default if written is None else ESCAPES.get(written, written)


def _encoding(core: Element) -> str:
    named = core.get("encoding") or "UTF-8"
    try:
        b"text".decode(named, "replace")  # which also refuses a codec that gives no text
    except (LookupError, UnicodeError) as fault:
        raise CannotBeAudited("its meta.xml names an encoding that is not known") from fault
    return named


def _taken_out(archive: zipfile.ZipFile, member: zipfile.ZipInfo, place: Path) -> Path:
    """Never more bytes than the archive lists: Python's reader stops there, and says if the content is another."""
    size = member.file_size
    if size > LARGEST_TABLE or size > max(SMALL, LARGEST_RATIO * member.compress_size):
        raise CannotBeAudited(f"it unpacks to an unusual size ({size:,} bytes)")
    if size > shutil.disk_usage(place.parent).free:
        raise CannotBeAudited(f"it unpacks to {size:,} bytes, more than there is room for on the disk")
    with archive.open(member) as packed, place.open("wb") as file:
        shutil.copyfileobj(packed, file, 1 << 22)
    return place
