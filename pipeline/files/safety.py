"""What a file is decides its bytes, never its name; what we do not open is said in plain words."""

from __future__ import annotations

import re
from collections.abc import Mapping
from types import MappingProxyType
from typing import NamedTuple

from pipeline.files import ole2
from pipeline.files.first_bytes import ARCHIVE, LETTER, MAIL, PICTURE, SLIDES, look_of
from pipeline.files.limits import LARGEST_TOTAL, MOST_CELLS, MOST_COLUMNS, MOST_ROWS, SPREAD
from pipeline.files.ole2 import holds_stream
from pipeline.files.unpack import Damaged, TooLarge, directory, unpacked

NOT_OPENED, LOCKED = "file_not_opened", "file_locked_by_password"
MACROS, TOO_LARGE = "workbook_with_macros", "file_unpacks_too_large"


class Look(NamedTuple):
    """What the bytes are: a `kind` that we read, or the rule that refuses them and `what` they look like."""

    kind: str = ""  # xlsx, xls, ods or text
    refusal: str = ""
    what: str = ""
    parts: Mapping[str, bytes] = MappingProxyType({})  # XML for the scan, by name
    points_out: bool = False  # at other files, at the web, or at what another program is to open


DAMAGED = Look(refusal=NOT_OPENED, what="a damaged workbook")
MANIFEST, TYPES = "META-INF/manifest.xml", "[Content_Types].xml"
SAYS = ("mimetype", MANIFEST, TYPES)  # parts by which a document says what it is
MACRO_TYPE = re.compile(rb"vbaproject|macrosheet", re.IGNORECASE)
MACRO_PART = re.compile(
    r"vbaproject\w*\.bin$|/macrosheets/|^Basic/[^/]+/(?!script-lb\.xml)[^/]+\.xml$|^Scripts/.", re.IGNORECASE
)
SCANNED = re.compile(r"xl/(?:worksheets/|_rels/)?[^/]+\.(?:xml|rels)")
POINTS_OUT = re.compile(r"xl/(?:externalLinks|embeddings)/|xl/connections\.xml$|^Object \d+/|^ObjectReplacements/.")
OUT_OF_IT = re.compile(rb"<table:table-source\b|<table:dde-link\b|<table:cell-range-source\b|<table:database-source")
# An .xls begins with its BOF record; a password follows as FilePass ([MS-XLS] 2.1.7.20.1).
FILE_PASS = re.compile(rb"\x09\x08(?:\x10\x00.{16}|\x08\x00.{8})(?:\x86\x00\x00\x00)?\x2f\x00", re.DOTALL)
OPEN_DOCUMENTS = {"text": LETTER, "presentation": SLIDES, "graphics": PICTURE, "image": PICTURE}
STREAMS = (
    ("WordDocument", LETTER),
    ("PowerPoint Document", SLIDES),
    ("__properties_version1.0", MAIL),
)
COUNTED = re.compile(rb"""ount=["']\s*\+?(\d{6,})["'][^<>]*>""")  # count and uniqueCount


def look(data: bytes) -> Look:
    """What a file's bytes are, and whether we open it."""
    if not data:
        return Look(refusal=NOT_OPENED, what="nothing (0 bytes)")
    if len(data) > LARGEST_TOTAL:
        return Look(refusal=TOO_LARGE, what="a very large file")
    if data.startswith(b"PK\x03\x04") or data.startswith(b"PK\x05\x06"):
        return _look_into_zip(data)
    if data.startswith(ole2.FIRST_BYTES):
        return _look_into_ole2(data)
    what = look_of(data)
    return Look(refusal=NOT_OPENED, what=what) if what else Look("text")


def _look_into_zip(data: bytes) -> Look:
    try:
        members = directory(data)
        names = {member.filename for member in members}
        said = unpacked(data, [member for member in members if member.filename in SAYS], bool)
        kind, what = _packed_kind(names, said.get("mimetype", b""))
        if not kind:
            return Look(refusal=NOT_OPENED, what=what)
        if any(member.flag_bits & 1 for member in members) or "encrypted-package" in names:
            return Look(refusal=LOCKED, what="a workbook with a password")
        if any(MACRO_PART.search(name) for name in names) or MACRO_TYPE.search(said.get(TYPES, b"")):
            return Look(refusal=MACROS, what="a workbook with macros")
        if b"encryption-data" in said.get(MANIFEST, b""):
            return Look(refusal=LOCKED, what="a workbook with a password")
        parts = unpacked(data, members, _is_scanned)
    except TooLarge:
        return Look(refusal=TOO_LARGE, what="a workbook that unpacks to an unusual size")
    except Damaged:
        return DAMAGED
    if kind == "ods" and b"<office:spreadsheet" not in parts.get("content.xml", b""):
        return Look(refusal=NOT_OPENED, what="a document of another kind")
    if any(_is_trap(part) for part in parts.values()):
        return DAMAGED
    parts.pop("xl/sharedStrings.xml", None)  # large, and of no use to the scan
    points_out = any(POINTS_OUT.search(name) for name in names) or OUT_OF_IT.search(parts.get("content.xml", b""))
    return Look(kind, parts=parts, points_out=bool(points_out))


def _is_trap(part: bytes) -> bool:
    """XML that declares a document type, as none from a spreadsheet program does: it may name other files, entities.

    In two bytes a letter it would hide from a look at the bytes; none writes that either. Nor do they count more
    elements than there are bytes: a reader makes room for as many as it is told.
    """
    is_boastful = any(int(count) > len(part) for count in COUNTED.findall(part))
    return is_boastful or b"<!DOCTYPE" in part or b"\x00" in part[:200]


def _packed_kind(names: set[str], mimetype: bytes) -> tuple[str, str]:
    open_document = re.match(rb"application/vnd\.oasis\.opendocument\.([a-z]+)", mimetype)
    if open_document:
        form = open_document[1].decode()
        return ("ods", "") if form == "spreadsheet" else ("", OPEN_DOCUMENTS.get(form, "a document"))
    if "xl/workbook.bin" in names:
        return "", "a binary workbook (.xlsb)"
    for folder, kind, what in (("xl/", "xlsx", ""), ("word/", "", LETTER), ("ppt/", "", SLIDES)):
        if any(name.startswith(folder) for name in names):
            return kind, what
    if any(name.endswith((".iwa", ".apxl", ".apxl.gz")) or name == "Index.zip" for name in names):
        return "", "a sheet or document of another program (.numbers or .pages)"
    if "content.xml" in names and "META-INF/manifest.xml" in names:
        return "ods", ""
    return "", "a document of another kind" if TYPES in names or mimetype else ARCHIVE


def _is_scanned(name: str) -> bool:
    return name == "content.xml" or SCANNED.fullmatch(name) is not None


def _look_into_ole2(data: bytes) -> Look:
    if holds_stream(data, "EncryptedPackage") or FILE_PASS.search(data):
        return Look(refusal=LOCKED, what="a workbook with a password")
    if holds_stream(data, "Workbook") or holds_stream(data, "Book"):
        if holds_stream(data, "_VBA_PROJECT_CUR") or holds_stream(data, "_VBA_PROJECT"):
            return Look(refusal=MACROS, what="a workbook with macros")
        try:
            rows, columns = ole2.corner(ole2.opened(data))
        except (ole2.Damaged, StopIteration):
            return DAMAGED
        if rows >= MOST_ROWS or columns >= MOST_COLUMNS or rows * columns > MOST_CELLS:
            return Look(refusal=NOT_OPENED, what=SPREAD)
        return Look("xls", points_out=holds_stream(data, "\x01Ole10Native") or holds_stream(data, "\x01Ole"))
    for stream, what in STREAMS:
        if holds_stream(data, stream):
            return Look(refusal=NOT_OPENED, what=what)
    return DAMAGED
