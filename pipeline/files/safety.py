"""What a file is decides its bytes, never its name; what we do not open is said in plain words."""

from __future__ import annotations

import re
from collections.abc import Mapping
from types import MappingProxyType
from typing import NamedTuple

from pipeline.files.limits import LARGEST_TOTAL
from pipeline.files.unpack import Damaged, TooLarge, directory, unpacked

NOT_OPENED, LOCKED = "file_not_opened", "file_locked_by_password"
MACROS, TOO_LARGE = "workbook_with_macros", "file_unpacks_too_large"


class Look(NamedTuple):
    """What the bytes are: a `kind` that we read, or the rule that refuses them and `what` they look like."""

    kind: str = ""  # xlsx, xls, ods or text
    refusal: str = ""
    what: str = ""
    parts: Mapping[str, bytes] = MappingProxyType({})  # XML for the scan, by name


PICTURE, ARCHIVE, PROGRAM = "a picture", "an archive", "a program"
LETTER, SLIDES, RECORDING = "a word-processor document", "a set of slides", "a recording or a film"
DAMAGED = Look(refusal=NOT_OPENED, what="a damaged workbook")
MANIFEST = "META-INF/manifest.xml"
SAYS = ("mimetype", MANIFEST)  # parts by which a document says what it is
MACRO_PART = re.compile(
    r"vbaproject\.bin$|/macrosheets/|^Basic/[^/]+/(?!script-lb\.xml)[^/]+\.xml$|^Scripts/.", re.IGNORECASE
)
SCANNED = re.compile(r"xl/(?:worksheets/|_rels/)?(?!sharedStrings)[^/]+\.(?:xml|rels)")
OLE2 = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"

# The first bytes of common files, as the file formats' own descriptions give them.
FIRST_BYTES: tuple[tuple[bytes, str], ...] = (
    (b"\x89PNG\r\n\x1a\n", PICTURE),
    (b"\xff\xd8\xff", PICTURE),
    (b"GIF87a", PICTURE),
    (b"GIF89a", PICTURE),
    (b"II*\x00", PICTURE),
    (b"MM\x00*", PICTURE),
    (b"{\\rtf", LETTER),
    (b"\x1f\x8b", ARCHIVE),
    (b"7z\xbc\xaf\x27\x1c", ARCHIVE),
    (b"Rar!\x1a\x07", ARCHIVE),
    (b"\xfd7zXZ\x00", ARCHIVE),
    (b"BZh", ARCHIVE),
    (b"\x28\xb5\x2f\xfd", ARCHIVE),
    (b"SQLite format 3\x00", "a database"),
    (b"\x00\x01\x00\x00Standard", "a database"),
    (b"\x7fELF", PROGRAM),
    (b"MZ\x90", PROGRAM),
    (b"ID3", RECORDING),
    (b"OggS", RECORDING),
    (b"\x1aE\xdf\xa3", RECORDING),
    (b"PAR1", "a data table of another program"),
    (b"\x09\x00\x04\x00", "a workbook older than 1993"),
    (b"\x09\x02\x06\x00", "a workbook older than 1993"),
    (b"\x09\x04\x06\x00", "a workbook older than 1993"),
)
# An .xls begins with its BOF record; a password follows as FilePass ([MS-XLS] 2.1.7.20.1).
FILE_PASS = re.compile(rb"\x09\x08(?:\x10\x00.{16}|\x08\x00.{8})(?:\x86\x00\x00\x00)?\x2f\x00", re.DOTALL)
OPEN_DOCUMENTS = {"text": LETTER, "presentation": SLIDES, "graphics": PICTURE, "image": PICTURE}
STREAMS = (
    ("WordDocument", LETTER),
    ("PowerPoint Document", SLIDES),
    ("__properties_version1.0", "an e-mail"),
)


def look(data: bytes) -> Look:
    """What a file's bytes are, and whether we open it."""
    if not data:
        return Look(refusal=NOT_OPENED, what="nothing (0 bytes)")
    if len(data) > LARGEST_TOTAL:
        return Look(refusal=TOO_LARGE, what="a very large file")
    if data.startswith(b"PK\x03\x04") or data.startswith(b"PK\x05\x06"):
        return _look_into_zip(data)
    if data.startswith(OLE2):
        return _look_into_ole2(data)
    what = _no_table(data)
    return Look(refusal=NOT_OPENED, what=what) if what else Look("text")


def _no_table(data: bytes) -> str:
    for first, what in FIRST_BYTES:
        if data.startswith(first):
            return what
    if data[4:8] == b"ftyp":
        return PICTURE if data[8:12] in (b"heic", b"heix", b"mif1", b"avif", b"msf1") else RECORDING
    if data.startswith(b"RIFF"):
        return PICTURE if data[8:12] == b"WEBP" else RECORDING
    if data.startswith(b"BM") and data[6:10] == b"\x00\x00\x00\x00":
        return PICTURE
    if b"%PDF-" in data[:1024]:
        return "a PDF"
    return _marked_up(data)


def _marked_up(data: bytes) -> str:
    start = data[:4096].replace(b"\x00", b"").lstrip(b"\xef\xbb\xbf\xff\xfe \t\r\n").lower()
    if re.match(rb"<!doctype html|<html|<head|<body|<table|<meta|<div", start):
        return "a web page"
    if start.startswith(b"<?xml") or start.startswith(b"<svg"):
        if b"office:spreadsheet" in start:
            return "a workbook in an old XML form"
        if b"<html" in start:
            return "a web page"
        return PICTURE if b"<svg" in start else "an XML file"
    if start.startswith(b"mime-version:") and b"multipart/related" in start:
        return "a web page"
    return ""


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
        if any(MACRO_PART.search(name) for name in names):
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
    if any(b"<!ENTITY" in part or b"<!DOCTYPE" in part for part in parts.values()):
        return DAMAGED  # no spreadsheet program writes these; they make a reader grow without end
    return Look(kind, parts=parts)


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
    if any(name.endswith(".iwa") or name == "Index.zip" for name in names):
        return "", "a sheet or document of another program (.numbers or .pages)"
    if "content.xml" in names and "META-INF/manifest.xml" in names:
        return "ods", ""
    return "", ARCHIVE


def _is_scanned(name: str) -> bool:
    return name == "content.xml" or SCANNED.fullmatch(name) is not None


def _look_into_ole2(data: bytes) -> Look:
    if _holds_stream(data, "EncryptedPackage") or FILE_PASS.search(data):
        return Look(refusal=LOCKED, what="a workbook with a password")
    if _holds_stream(data, "Workbook") or _holds_stream(data, "Book"):
        if _holds_stream(data, "_VBA_PROJECT_CUR") or _holds_stream(data, "_VBA_PROJECT"):
            return Look(refusal=MACROS, what="a workbook with macros")
        return Look("xls")
    for stream, what in STREAMS:
        if _holds_stream(data, stream):
            return Look(refusal=NOT_OPENED, what=what)
    return DAMAGED


def _holds_stream(data: bytes, name: str) -> bool:
    # An entry of the container's directory starts with its name and stands at a multiple of 128 bytes.
    entry = name.encode("utf-16-le") + b"\x00\x00"
    at = data.find(entry)
    while at >= 0 and at % 128:
        at = data.find(entry, at + 2)
    return at >= 0
