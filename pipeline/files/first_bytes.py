"""What a file looks like by its first bytes, where it is neither a workbook nor a text table."""

from __future__ import annotations

import re

PICTURE, ARCHIVE, PROGRAM = "a picture", "an archive", "a program"
LETTER, SLIDES, RECORDING = "a word-processor document", "a set of slides", "a recording or a film"
PDF, DATABASE, MAIL = "a PDF", "a database", "an e-mail"
OLD, OTHER_TABLE, WEB_PAGE = "a workbook older than 1993", "a data table of another program", "a web page"
SHORTCUT, LINK = "a shortcut to a file", "a link to a sheet on the web"

# As the file formats' own descriptions give them.
FIRST_BYTES: tuple[tuple[bytes, str], ...] = (
    (b"\x89PNG\r\n\x1a\n", PICTURE),
    (b"\xff\xd8\xff", PICTURE),
    (b"GIF87a", PICTURE),
    (b"GIF89a", PICTURE),
    (b"II*\x00", PICTURE),
    (b"MM\x00*", PICTURE),
    (b"8BPS\x00", PICTURE),
    (b"\x00\x00\x00\x0cJXL ", PICTURE),
    (b"{\\rtf", LETTER),
    (b"%!PS", PDF),
    (b"\x1f\x8b", ARCHIVE),
    (b"7z\xbc\xaf\x27\x1c", ARCHIVE),
    (b"Rar!\x1a\x07", ARCHIVE),
    (b"\xfd7zXZ\x00", ARCHIVE),
    (b"BZh91AY", ARCHIVE),
    (b"\x28\xb5\x2f\xfd", ARCHIVE),
    (b"PK00PK", ARCHIVE),
    (b"PK\x07\x08", ARCHIVE),
    (b"SQLite format 3\x00", DATABASE),
    (b"\x00\x01\x00\x00Standard", DATABASE),
    (b"\x7fELF", PROGRAM),
    (b"MZ\x90", PROGRAM),
    (b"\xcf\xfa\xed\xfe", PROGRAM),
    (b"ID3\x02", RECORDING),
    (b"ID3\x03", RECORDING),
    (b"ID3\x04", RECORDING),
    (b"OggS", RECORDING),
    (b"\x1aE\xdf\xa3", RECORDING),
    (b"L\x00\x00\x00\x01\x14\x02\x00", SHORTCUT),
    (b"book\x00\x00\x00\x00mark", SHORTCUT),
    (b"PAR1\x15", OTHER_TABLE),
    (b"ARROW1\x00\x00", OTHER_TABLE),
    (b"\x89HDF\r\n\x1a\n", OTHER_TABLE),
    (b"RDX2\n", OTHER_TABLE),
    (b"RDX3\n", OTHER_TABLE),
    (b"$FL2@(#)", OTHER_TABLE),
    (b"\x09\x00\x04\x00", OLD),
    (b"\x09\x02\x06\x00", OLD),
    (b"\x09\x04\x06\x00", OLD),
    (b"\x00\x00\x02\x00\x06\x04\x06\x00", OLD),
)
OF_A_CAMERA = (b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"mif1", b"msf1", b"avif", b"avis", b"crx ")
PAGE = re.compile(rb"<!doctype html|<html|<head|<body|<table|<meta|<div")
# A small text that holds nothing but an address on the web: what "add a shortcut" leaves of a sheet that lives there.
ADDRESS = re.compile(
    rb"\{[^\[]*\"(?:url|doc_id|resource_id)\"\s*:|\[internetshortcut\]|\[desktop entry\].*?\burl="
    rb"|https?://[^\s,;|]+\s*\Z",
    re.DOTALL,
)
LARGEST_LINK = 4096  # bytes
MAILED = re.compile(rb"\n(?:to|received|delivered-to|message-id|references):")


def look_of(data: bytes) -> str:
    """In words what the bytes look like, "" where they may be a text table."""
    for first, what in FIRST_BYTES:
        if data.startswith(first):
            return what
    if data[4:8] == b"ftyp":
        return PICTURE if data[8:12] in OF_A_CAMERA else RECORDING
    if data.startswith(b"RIFF"):
        return PICTURE if data[8:12] == b"WEBP" else RECORDING
    if data.startswith(b"BM") and data[6:10] == b"\x00\x00\x00\x00":
        return PICTURE
    if data[257:262] == b"ustar":
        return ARCHIVE
    if b"%PDF-" in data[:1024]:
        return PDF
    return _marked_up(data)


def _marked_up(data: bytes) -> str:
    start = data[:LARGEST_LINK].replace(b"\x00", b"").lstrip(b"\xef\xbb\xbf\xff\xfe \t\r\n").lower()
    if PAGE.match(start):
        return WEB_PAGE
    if start.startswith((b"<?xml", b"<svg", b"<workbook", b"<!--", b"<kml", b"<gpx", b"<plist", b"<!doctype")):
        return _of_xml(start)
    if start.startswith((b"mime-version:", b"from: <saved by")) and b"multipart/related" in start:
        return "" if MAILED.search(start) else WEB_PAGE  # a page with its pictures is saved in the form of a mail
    if len(data) < LARGEST_LINK and ADDRESS.match(start):
        return LINK
    return ""


def _of_xml(start: bytes) -> str:
    if b"office:spreadsheet" in start or b"opendocument.spreadsheet" in start:
        return "a workbook in an old XML form"
    if b"<html" in start or b"<table" in start:
        return WEB_PAGE
    if b"<svg" in start:
        return PICTURE
    if b"<plist" in start and b"<key>url</key>" in start:
        return LINK
    if b"word/2003/wordml" in start or b"opendocument.text" in start:
        return LETTER
    return "an XML file"
